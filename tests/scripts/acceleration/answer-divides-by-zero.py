# A cell that stops: nothing of 2 marks, and the rest goes on.
# mark: 21
# %% coriolis-answer
coriolis = 1 / 0
