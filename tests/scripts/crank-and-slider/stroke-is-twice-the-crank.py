# The offset forgotten in the stroke: a third of 3 marks.
# mark: 18
# %% stroke-answer
stroke = (2 * chopper.crank_mm, "mm")
