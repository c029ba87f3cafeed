# A function that stops with an error: nothing of 6 marks.
# mark: 32
# %% rocker-at-answer
def rocker_at(crank_angle):
    raise ValueError("not finished")
