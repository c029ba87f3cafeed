# A list in place of the table: nothing of 4 marks.
# mark: 34
# %% link-kinds-answer
link_kinds = ["fixed", "translation", "fixed-axis rotation", "combined motion"]
