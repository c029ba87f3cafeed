# A force where a mass is asked for: nothing of 2 marks.
# mark: 21
# %% counterweight-answer
counterweight = "40 N"
