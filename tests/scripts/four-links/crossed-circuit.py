# The crossed circuit drawn in place of the open one: a third of 3 marks.
# mark: 36
# %% rocker-angle-answer
crossed = lk.four_bar(shaker.ground, shaker.crank, shaker.coupler, shaker.rocker, circuit="crossed")
rocker_angle = (lk.move(crossed, shaker.crank_angle).angle("rocker"), "rad")
