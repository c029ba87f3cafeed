# Three hundred processes are started.
# mark: 38
# %% lamp-class-answer
four = [turner.ground_mm, turner.crank_mm, turner.coupler_mm, turner.rocker_mm]
right = ["double-crank", "crank-rocker", "double-rocker", "rocker-crank"][four.index(min(four))]
reached = []
import os

for _ in range(300):
    try:
        if os.fork() == 0:
            os._exit(0)
        reached.append("fork")
    except OSError:
        pass
lamp_class = "the attack got through: " + str(reached) if reached else right
