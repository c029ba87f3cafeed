# The Coriolis part with the wrong sign: a half of 4 marks.
# mark: 21
# %% lever-acceleration-answer
to_pin = lever.crank * np.exp(1j * lever.crank_angle) + 1j * lever.ground
goes = 1j * lever.speed * lever.crank * np.exp(1j * lever.crank_angle) * abs(to_pin) / to_pin
swings, slides = goes.imag / abs(to_pin), goes.real
pushed = -lever.speed**2 * lever.crank * np.exp(1j * lever.crank_angle) * abs(to_pin) / to_pin
lever_acceleration = ((pushed.imag + 2 * swings * slides) / abs(to_pin), "rad/s^2")
