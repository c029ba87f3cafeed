# Degrees taken for radians: a third of 6 marks.
# mark: 15
# %% slider-x-answer
def slider_x(crank_angle):
    c = np.radians(crank_angle)
    return chopper.crank * np.cos(c) + np.sqrt(chopper.rod**2 - (chopper.offset - chopper.crank * np.sin(c)) ** 2)
