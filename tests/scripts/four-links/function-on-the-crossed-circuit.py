# A function on the other circuit: a half of 6 marks.
# mark: 35
# %% rocker-at-answer
def rocker_at(crank_angle):
    bars = lk.four_bar(shaker.ground, shaker.crank, shaker.coupler, shaker.rocker, circuit="crossed")
    return lk.move(bars, crank_angle).angle("rocker")
