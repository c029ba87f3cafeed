# The block's speed 30 % too large, nothing of 3; the Coriolis part from it 1.33 of 2.
# mark: 19.33
# %% block-speed-answer
to_pin = lever.crank * np.exp(1j * lever.crank_angle) + 1j * lever.ground
goes = 1j * lever.speed * lever.crank * np.exp(1j * lever.crank_angle) * abs(to_pin) / to_pin
swings, slides = goes.imag / abs(to_pin), goes.real
pushed = -lever.speed**2 * lever.crank * np.exp(1j * lever.crank_angle) * abs(to_pin) / to_pin
block_speed = (1.3 * slides, "m/s")
# %% coriolis-answer
coriolis = (abs(2 * swings * 1.3 * slides), "m/s^2")
