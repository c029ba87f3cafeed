# The table of classes left as it was: nothing of 4 marks.
# mark: 14
# %% all-classes-answer
all_classes = {"ground": "", "crank": "", "coupler": "", "rocker": ""}
