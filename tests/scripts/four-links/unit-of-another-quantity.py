# Degrees where a length is asked for: nothing of 3 marks.
# mark: 35
# %% stroke-answer
stroke = "170 deg"
