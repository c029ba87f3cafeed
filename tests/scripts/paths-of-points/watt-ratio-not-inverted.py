# The ratio of the arms the wrong way round: a half of 2 marks.
# mark: 18
# %% watt-point-answer
watt_point = (arms.link_mm * arms.left_mm / (arms.left_mm + arms.right_mm), "mm")
