# The beam 3 degrees off and the plunger from nothing: none of 3 and of 4.
# mark: 16
# %% beam-turned-answer
chain = lk.four_bar(abs(2.05 + 3.1j), lift.crank, lift.rod, lift.near_arm)
slope = np.angle(2.05 + 3.1j)
far = -np.exp(1j * (lk.move(chain, lift.crank_angle - slope).angle("rocker") + slope))
beam = np.angle(far) + np.radians(3)
beam_turned = (beam, "rad")
# %% plunger-below-answer
plunger_below = "1234 mm"
