# Not-a-number and infinity for every answer, and a function that returns them.
# mark: 0
# only these cells
# %% your-id
student_id = "{student}"

# %% link-kinds-answer
link_kinds = float("nan")
# %% lamp-class-answer
lamp_class = float("nan")
# %% hatch-class-answer
hatch_class = float("nan")
# %% rocker-angle-answer
rocker_angle = float("nan")
# %% transmission-here-answer
transmission_here = float("nan")
# %% far-limit-answer
far_limit = float("nan")
# %% swing-answer
swing = float("nan")
# %% time-ratio-answer
time_ratio = float("nan")
# %% least-transmission-answer
least_transmission = float("nan")
# %% rocker-at-answer
rocker_at = float("nan")
# %% slider-at-answer
slider_at = float("nan")
# %% stroke-answer
stroke = float("nan")


# %% rocker-at-answer
def rocker_at(crank_angle):
    return float("inf")
