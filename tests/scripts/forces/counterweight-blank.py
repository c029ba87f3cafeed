# One answer left out: nothing of 2 marks.
# mark: 21
# %% counterweight-answer
counterweight = None
