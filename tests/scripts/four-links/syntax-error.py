# An answer that Python cannot read: nothing of 3 marks, and the rest goes on.
# mark: 35
# %% swing-answer
swing = = "40 deg"
