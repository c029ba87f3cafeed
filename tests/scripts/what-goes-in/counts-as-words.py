# A count in words: nothing of 1 mark.
# mark: 12
# %% pair-count-answer
pair_count = "seven"
