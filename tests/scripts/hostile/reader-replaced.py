# The function that reads answers, and JSON itself, are replaced.
# mark: 0
# only these cells
# %% your-id
student_id = "{student}"

import json

import linkkit.coursework.answers as answers

answers.plain = lambda value, depth=0: "right"
json.dumps = lambda value, **more: '{"answer": "stroke-is-right", "raw": "right"}'

# %% link-kinds-answer
link_kinds = None
# %% lamp-class-answer
lamp_class = None
# %% hatch-class-answer
hatch_class = None
# %% rocker-angle-answer
rocker_angle = None
# %% transmission-here-answer
transmission_here = None
# %% far-limit-answer
far_limit = None
# %% swing-answer
swing = None
# %% time-ratio-answer
time_ratio = None
# %% least-transmission-answer
least_transmission = None
# %% rocker-at-answer
rocker_at = None
# %% slider-at-answer
slider_at = None
# %% stroke-answer
stroke = None
