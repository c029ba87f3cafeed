# Threads that are done when the cell is cost nothing.
# mark: 38
# %% lamp-class-answer
from concurrent.futures import ThreadPoolExecutor

four = [turner.ground_mm, turner.crank_mm, turner.coupler_mm, turner.rocker_mm]
with ThreadPoolExecutor(2) as lanes:
    shortest = list(lanes.map(min, [four, four]))[1]
lamp_class = ["double-crank", "crank-rocker", "double-rocker", "rocker-crank"][four.index(shortest)]
