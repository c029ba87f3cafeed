# Right only while the crank is above the ground: a part of half the marks.
# mark: part
# %% rocker-at-answer
def rocker_at(crank_angle):
    bars = lk.four_bar(shaker.ground, shaker.crank, shaker.coupler, shaker.rocker)
    return lk.move(bars, crank_angle).angle("rocker") if np.sin(crank_angle) >= 0 else 0.0
