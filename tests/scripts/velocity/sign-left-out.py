# The sign of the rocker's turning left out or put in: the size alone is a quarter of 4 marks.
# mark: 25
# %% rocker-speed-answer
net = lk.four_bar(rack.ground, rack.crank, rack.coupler, rack.rocker)
rocker_speed = (-lk.move(net, rack.crank_angle, speed=rack.speed).angular_velocity("rocker"), "rad/s")
