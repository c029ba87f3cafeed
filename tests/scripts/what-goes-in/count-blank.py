# One count left out: nothing of 2 marks.
# mark: 11
# %% mobility-count-answer
mobility_count = None
