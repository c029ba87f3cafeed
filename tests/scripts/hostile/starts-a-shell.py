# Commands are run, in every way that there is.
# mark: 38
# %% lamp-class-answer
four = [turner.ground_mm, turner.crank_mm, turner.coupler_mm, turner.rocker_mm]
right = ["double-crank", "crank-rocker", "double-rocker", "rocker-crank"][four.index(min(four))]
reached = []
import os
import subprocess

for start in (
    lambda: subprocess.run(["/usr/bin/id"], check=True),
    lambda: os.posix_spawn("/usr/bin/id", ["id"], {}),
    lambda: os.execv("/usr/bin/id", ["id"]),
    lambda: os.forkpty(),
):
    try:
        start()
        reached.append("started")
    except OSError:
        pass
if os.system("true") == 0:
    reached.append("system")
lamp_class = "the attack got through: " + str(reached) if reached else right
