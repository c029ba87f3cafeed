# The normal part of the rod left out of its angular acceleration: a half of 4 marks.
# mark: 21
# %% rod-acceleration-answer
rod = np.arcsin((blade.offset - blade.crank * np.sin(blade.crank_angle)) / blade.rod)
rod_acceleration = (blade.speed**2 * blade.crank * np.sin(blade.crank_angle) / (blade.rod * np.cos(rod)), "rad/s^2")
