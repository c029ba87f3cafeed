# Three first parts wrong (3, 2 and 4 marks), what builds on them right from them: 2 of 3, 2 of 3, 1.33 of 2.
# mark: 41.33
# %% rocker-angle-answer
net = lk.four_bar(shaker.ground, shaker.crank, shaker.coupler, shaker.rocker)
rocker_angle = (lk.move(net, shaker.crank_angle).angle("rocker") - np.radians(7), "rad")
# %% transmission-here-answer
b = shaker.ground + shaker.rocker * np.exp(1j * rocker_angle[0])
between = abs(np.angle((b - shaker.crank * np.exp(1j * shaker.crank_angle)) / np.exp(1j * rocker_angle[0]))) % np.pi
transmission_here = (min(between, np.pi - between), "rad")
# %% lever-direction-answer
true = np.arctan2(ram.ground + ram.crank * np.sin(ram.crank_angle), ram.crank * np.cos(ram.crank_angle))
lever_direction = (true + np.radians(5), "rad")
# %% ram-at-answer
ram_at = (ram.height_mm / np.tan(lever_direction[0]), "mm")
# %% rocker-speed-answer
net = lk.four_bar(rack.ground, rack.crank, rack.coupler, rack.rocker)
rocks = 1.2 * lk.move(net, rack.crank_angle, speed=rack.speed).angular_velocity("rocker")
rocker_speed = (rocks, "rad/s")
# %% joint-speed-answer
joint_speed = (abs(rocks) * rack.rocker, "m/s")
