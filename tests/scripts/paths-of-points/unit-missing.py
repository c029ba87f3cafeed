# The right value without its unit: a half of 2 marks.
# mark: 18
# %% cell-reach-answer
cell_reach = float((cell.long_mm**2 - cell.short_mm**2) / cell.near_mm)
