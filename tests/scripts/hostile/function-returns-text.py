# The function asked for returns texts, lists and itself.
# mark: 32
# %% rocker-at-answer
def rocker_at(crank_angle):
    return [crank_angle, rocker_at]
