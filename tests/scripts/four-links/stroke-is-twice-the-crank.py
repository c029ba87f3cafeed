# The offset left out of the stroke: a third of 3 marks.
# mark: 36
# %% stroke-answer
stroke = f"{2 * chopper.crank_mm} mm"
