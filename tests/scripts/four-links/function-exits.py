# A function that tries to leave Python: nothing of 6 marks.
# mark: 32
# %% rocker-at-answer
def rocker_at(crank_angle):
    raise SystemExit
