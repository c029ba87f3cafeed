# No number to be read: nothing of 3 marks.
# mark: 35
# %% time-ratio-answer
time_ratio = "a little more than one"
