# linkkit is changed on disk, and its rights and times.
# mark: 38
# %% lamp-class-answer
four = [turner.ground_mm, turner.crank_mm, turner.coupler_mm, turner.rocker_mm]
right = ["double-crank", "crank-rocker", "double-rocker", "rocker-crank"][four.index(min(four))]
reached = []
import os

import linkkit

for act in (
    lambda p: os.chmod(p, 0o777),
    lambda p: os.utime(p, (0, 0)),
    lambda p: os.rename(p, p + "x"),
    lambda p: open(p, "a").close(),
    lambda p: os.link(p, "/tmp/link"),
):
    try:
        act(linkkit.__file__)
        reached.append("changed")
    except OSError:
        pass
lamp_class = "the attack got through: " + str(reached) if reached else right
