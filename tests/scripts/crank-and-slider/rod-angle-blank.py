# One answer left out: nothing of 2 marks, and the rest goes on.
# mark: 18
# %% rod-angle-answer
rod_angle = None
