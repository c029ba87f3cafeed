# The height given for x: a third of 3 marks.
# mark: 17
# %% eye-across-answer
bars = lk.four_bar(guide.ground, guide.crank, guide.arm, guide.rocker)
motion = lk.move(bars, guide.crank_angle)
eye_across = ((motion.point("A") + guide.eye * np.exp(1j * motion.angle("coupler"))).imag, "m")
