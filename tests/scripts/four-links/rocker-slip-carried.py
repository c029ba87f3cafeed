# The rocker 7 degrees off, nothing of 3; the transmission angle from it, 2 of 3.
# mark: 34
# %% rocker-angle-answer
net = lk.four_bar(shaker.ground, shaker.crank, shaker.coupler, shaker.rocker)
rocker_angle = (lk.move(net, shaker.crank_angle).angle("rocker") - np.radians(7), "rad")
# %% transmission-here-answer
b = shaker.ground + shaker.rocker * np.exp(1j * rocker_angle[0])
between = abs(np.angle((b - shaker.crank * np.exp(1j * shaker.crank_angle)) / np.exp(1j * rocker_angle[0]))) % np.pi
transmission_here = (min(between, np.pi - between), "rad")
