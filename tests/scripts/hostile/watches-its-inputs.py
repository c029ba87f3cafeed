# A function remembers what it is called with and tries to keep it for the next script.
# mark: 38
# %% lamp-class-answer
four = [turner.ground_mm, turner.crank_mm, turner.coupler_mm, turner.rocker_mm]
right = ["double-crank", "crank-rocker", "double-rocker", "rocker-crank"][four.index(min(four))]
reached = []
import os
from tempfile import gettempdir

seen = gettempdir() + "/seen"
try:
    with open(seen, encoding="utf-8") as file:
        reached.append(file.read())
except OSError:
    pass
with open(seen, "w", encoding="utf-8") as file:
    file.write(student_id)
os.makedirs(gettempdir() + "/mine", exist_ok=True)
lamp_class = "the attack got through: " + str(reached) if reached else right
