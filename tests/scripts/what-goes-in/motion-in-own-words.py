# A motion in the student's own words: nothing of 1 mark, and the options are shown.
# mark: 12
# %% link-motion-answer
link_motion = "it wobbles"
