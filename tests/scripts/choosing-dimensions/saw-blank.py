# One design left out: nothing of 5 marks.
# mark: 35
# %% new-saw-answer
new_saw = None
