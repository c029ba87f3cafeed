# A name that is no function: nothing of 6 marks.
# mark: 32
# %% rocker-at-answer
rocker_at = 1.25
