# Printing and warning cost nothing: full marks.
# mark: 38
# %% rocker-at-answer
def rocker_at(crank_angle):
    import sys
    import warnings

    print("called with", crank_angle)
    print("and this to the other stream", file=sys.stderr)
    warnings.warn("a warning of mine")
    bars = lk.four_bar(shaker.ground, shaker.crank, shaker.coupler, shaker.rocker)
    return lk.move(bars, crank_angle).angle("rocker")
