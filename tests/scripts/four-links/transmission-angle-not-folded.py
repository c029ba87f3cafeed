# The obtuse angle at B left unfolded: a half of 3 marks.
# mark: 36.5
# %% transmission-here-answer
motion = lk.move(lk.four_bar(shaker.ground, shaker.crank, shaker.coupler, shaker.rocker), shaker.crank_angle)
a, b, q = motion.point("A"), motion.point("B"), motion.point("Q")
transmission_here = (abs(np.angle((a - b) / (q - b), deg=True)), "deg")
