# The package imported again within the function: nothing of 6 marks.
# mark: 13
# %% slider-x-answer
def slider_x(crank_angle):
    import linkkit

    bars = linkkit.slider_crank(chopper.crank, chopper.rod, offset=chopper.offset)
    return float(linkkit.move(bars, crank_angle).point("B").real)
