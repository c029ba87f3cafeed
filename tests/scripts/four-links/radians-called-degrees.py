# Radians calculated, degrees written: a half of 3 marks.
# mark: 36.5
# %% swing-answer
swing = (lk.facts(lk.four_bar(shaker.ground, shaker.crank, shaker.coupler, shaker.rocker)).swing, "deg")
