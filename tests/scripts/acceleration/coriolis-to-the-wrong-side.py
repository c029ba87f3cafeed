# The wrong side: nothing of 1 mark.
# mark: 22
# %% coriolis-side-answer
to_pin = lever.crank * np.exp(1j * lever.crank_angle) + 1j * lever.ground
goes = 1j * lever.speed * lever.crank * np.exp(1j * lever.crank_angle) * abs(to_pin) / to_pin
swings, slides = goes.imag / abs(to_pin), goes.real
pushed = -lever.speed**2 * lever.crank * np.exp(1j * lever.crank_angle) * abs(to_pin) / to_pin
coriolis_side = f"to the {'right' if swings * slides > 0 else 'left'}, seen along the lever outwards"
