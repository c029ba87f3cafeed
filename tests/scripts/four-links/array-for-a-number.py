# A whole cycle in place of one number: nothing of 3 marks.
# mark: 35
# %% slider-at-answer
bars = lk.slider_crank(chopper.crank, chopper.rod, offset=chopper.offset)
slider_at = lk.move(bars).point("B").real
