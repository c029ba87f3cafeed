# Quick over slow: a half of 3 marks.
# mark: 36.5
# %% time-ratio-answer
time_ratio = 1 / lk.facts(lk.four_bar(shaker.ground, shaker.crank, shaker.coupler, shaker.rocker)).time_ratio
