# The force of inertia instead of the force that accelerates: a half of 4 marks.
# mark: 21
# %% blade-force-answer
bars = lk.slider_crank(loaded.crank, loaded.rod, offset=loaded.offset)
motion = lk.move(bars, loaded.crank_angle, speed=loaded.speed)
blade_force = (-loaded.blade_kg * motion.acceleration("B").real, "N")
