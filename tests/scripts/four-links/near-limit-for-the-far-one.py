# The other limit position: a third of 3 marks.
# mark: 36
# %% far-limit-answer
bars = lk.four_bar(shaker.ground, shaker.crank, shaker.coupler, shaker.rocker)
ends = lk.facts(bars).limits
far_limit = (min(ends, key=lambda angle: abs(lk.move(bars, angle).point("B"))), "rad")
