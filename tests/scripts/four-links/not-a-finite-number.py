# An arccos of more than one: nothing of 3 marks.
# mark: 35
# %% far-limit-answer
far_limit = (float("nan"), "deg")
