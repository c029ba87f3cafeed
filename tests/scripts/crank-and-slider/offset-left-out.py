# The guide taken as passing through O: a third of 6 marks.
# mark: 16
# %% twelve-positions-answer
r, rod = chopper.crank, chopper.rod
twelve_positions = {}
for turned in range(0, 360, 30):
    c = np.radians(turned)
    twelve_positions[f"{turned} deg"] = (r * np.cos(c) + np.sqrt(rod**2 - (r * np.sin(c)) ** 2), "m")
