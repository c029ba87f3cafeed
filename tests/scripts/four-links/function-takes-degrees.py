# A function that converts radians to radians: a third of 6 marks.
# mark: 34
# %% rocker-at-answer
def rocker_at(crank_angle):
    bars = lk.four_bar(shaker.ground, shaker.crank, shaker.coupler, shaker.rocker)
    return lk.move(bars, np.radians(crank_angle)).angle("rocker")
