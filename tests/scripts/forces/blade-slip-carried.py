# The blade's force three times too large, nothing of 4; the torque from it 2 of 3.
# mark: 18
# %% blade-force-answer
bars = lk.slider_crank(loaded.crank, loaded.rod, offset=loaded.offset)
motion = lk.move(bars, loaded.crank_angle, speed=loaded.speed)
slipped = 3 * loaded.blade_kg * motion.acceleration("B").real
blade_force = (slipped, "N")
# %% running-torque-answer
running_torque = ((loaded.load + slipped) * motion.velocity("B").real / loaded.speed, "N m")
