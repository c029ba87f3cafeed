# The direction measured from the upright instead of +x: a half of 2 marks.
# mark: 17
# %% cylinder-direction-answer
to_pin = cylinder.crank * np.exp(1j * cylinder.crank_angle) + 1j * cylinder.ground
cylinder_direction = (np.degrees(np.angle(to_pin)) - 90, "deg")
