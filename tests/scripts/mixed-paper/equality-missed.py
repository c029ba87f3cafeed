# All four classes as if the sum of shortest and longest were too large: nothing of 4 marks.
# mark: 49
# %% all-classes-answer
all_classes = dict.fromkeys(("ground", "crank", "coupler", "rocker"), "triple-rocker")
