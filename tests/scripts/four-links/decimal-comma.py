# A decimal comma is read: full marks.
# mark: 38
# %% time-ratio-answer
ratio = lk.facts(lk.four_bar(shaker.ground, shaker.crank, shaker.coupler, shaker.rocker)).time_ratio
time_ratio = f"{ratio:.4f}".replace(".", ",")
