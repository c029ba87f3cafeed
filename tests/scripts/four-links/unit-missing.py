# The right number of degrees without the unit: a half of 3 marks.
# mark: 36.5
# %% swing-answer
bars = lk.four_bar(shaker.ground, shaker.crank, shaker.coupler, shaker.rocker)
swing = np.degrees(lk.facts(bars).swing)
