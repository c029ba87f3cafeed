# One design left out, and nothing else done.
# mark: 0
# only these cells
# %% new-saw-answer
new_saw = None
