# The swing taken between the crank positions along the fixed link: a third of 3 marks.
# mark: 36
# %% swing-answer
bars = lk.four_bar(shaker.ground, shaker.crank, shaker.coupler, shaker.rocker)
ends = lk.move(bars, np.array([0.0, np.pi])).angle("rocker")
swing = (abs(ends[1] - ends[0]), "rad")
