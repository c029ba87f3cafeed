# The crank angle in degrees given to sin and cos: a third of 3 marks.
# mark: 36
# %% slider-at-answer
c = chopper.crank_angle_deg
rise = chopper.offset_mm - chopper.crank_mm * np.sin(c)
slider_at = (chopper.crank_mm * np.cos(c) + np.sqrt(chopper.rod_mm**2 - rise**2), "mm")
