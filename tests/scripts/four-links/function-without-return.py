# The stub, a docstring and no return: nothing of 6 marks.
# mark: 32
# %% rocker-at-answer
def rocker_at(crank_angle):
    """The direction of your rocker QB at any crank angle."""
