# Files are written, removed and renamed outside the scratch.
# mark: 38
# %% lamp-class-answer
four = [turner.ground_mm, turner.crank_mm, turner.coupler_mm, turner.rocker_mm]
right = ["double-crank", "crank-rocker", "double-rocker", "rocker-crank"][four.index(min(four))]
reached = []
import os
import sys

import linkkit

for place in (
    "/",
    "/usr",
    "/etc",
    "/home",
    "/dev",
    "/dev/shm",
    "/proc",
    "/fonts",
    sys.prefix,
    os.path.dirname(linkkit.__file__),
):
    try:
        with open(os.path.join(place, "left-behind"), "w", encoding="utf-8") as file:
            file.write("here")
        reached.append(place)
    except OSError:
        pass
for act in (os.unlink, os.rmdir):
    try:
        act(linkkit.__file__)
        reached.append("removed")
    except OSError:
        pass
lamp_class = "the attack got through: " + str(reached) if reached else right
