# Turns a minute put in for radians a second: a third of 3 marks.
# mark: 21
# %% flywheel-inertia-answer
flywheel_inertia = (flywheel.energy / (flywheel.allowed * flywheel.speed_rpm**2), "kg m^2")
