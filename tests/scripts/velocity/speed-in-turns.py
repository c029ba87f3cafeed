# Turns a second where radians a second were meant: a half of 4 marks.
# mark: 26
# %% slider-speed-answer
bars = lk.slider_crank(blade.crank, blade.rod, offset=blade.offset)
slider_speed = (lk.move(bars, blade.crank_angle, speed=blade.speed).velocity("B").real / (2 * np.pi), "m/s")
