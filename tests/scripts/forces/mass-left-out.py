# The blade's mass left out at speed: a third of 3 marks.
# mark: 21
# %% running-torque-answer
bars = lk.slider_crank(loaded.crank, loaded.rod, offset=loaded.offset)
running_torque = (loaded.load * lk.move(bars, loaded.crank_angle, speed=1.0).velocity("B").real, "N m")
