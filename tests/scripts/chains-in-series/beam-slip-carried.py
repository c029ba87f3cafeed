# The beam 3 degrees off, nothing of 3; the plunger from it two thirds of 4 (2.67).
# mark: 18.67
# %% beam-turned-answer
chain = lk.four_bar(abs(2.05 + 3.1j), lift.crank, lift.rod, lift.near_arm)
slope = np.angle(2.05 + 3.1j)
far = -np.exp(1j * (lk.move(chain, lift.crank_angle - slope).angle("rocker") + slope))
beam = np.angle(far) + np.radians(3)
beam_turned = (beam, "rad")
# %% plunger-below-answer
far = lift.far_arm * np.exp(1j * beam)
plunger_below = (np.sqrt(lift.hanger**2 - (far.real - lift.guide) ** 2) - far.imag, "m")
