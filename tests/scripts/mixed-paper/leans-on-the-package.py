# The package used where own code is asked for: nothing of 6 marks.
# mark: 47
# %% slider-x-answer
def slider_x(crank_angle):
    bars = lk.slider_crank(chopper.crank, chopper.rod, offset=chopper.offset)
    return float(lk.move(bars, crank_angle).point("B").real)
