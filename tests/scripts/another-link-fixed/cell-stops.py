# A cell that stops with an error: nothing of 2 marks, and the rest goes on.
# mark: 16
# %% cylinder-length-answer
cylinder_length = cylinder.lenght
