# Every answer ends the process, so that some are never reached; nothing is given for those.
# mark: 0
# only these cells
# says: ended itself too often
# %% your-id
student_id = "{student}"
import os

# %% link-kinds-answer
os._exit(0)
# %% lamp-class-answer
os._exit(1)
# %% hatch-class-answer
os._exit(2)
# %% rocker-angle-answer
os._exit(3)
# %% transmission-here-answer
os._exit(4)
# %% far-limit-answer
os._exit(5)
# %% swing-answer
os._exit(6)
# %% time-ratio-answer
os._exit(7)
# %% least-transmission-answer
os._exit(8)
# %% rocker-at-answer
os._exit(9)
# %% slider-at-answer
os._exit(10)
# %% stroke-answer
os._exit(11)
