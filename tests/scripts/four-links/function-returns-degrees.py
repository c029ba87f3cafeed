# A right function but for its unit: two thirds of 6 marks.
# mark: 36
# %% rocker-at-answer
def rocker_at(crank_angle):
    bars = lk.four_bar(shaker.ground, shaker.crank, shaker.coupler, shaker.rocker)
    return np.degrees(lk.move(bars, crank_angle).angle("rocker"))
