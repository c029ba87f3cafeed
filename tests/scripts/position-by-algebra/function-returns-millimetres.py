# Millimetres returned: two thirds of 6 marks.
# mark: 17
# %% slider-x-answer
def slider_x(crank_angle):
    rise = chopper.offset_mm - chopper.crank_mm * np.sin(crank_angle)
    return chopper.crank_mm * np.cos(crank_angle) + np.sqrt(chopper.rod_mm**2 - rise**2)
