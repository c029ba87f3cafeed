# The lever 5 degrees off, nothing of 2; the ram from it, 2 of 3.
# mark: 20
# %% lever-direction-answer
true = np.arctan2(ram.ground + ram.crank * np.sin(ram.crank_angle), ram.crank * np.cos(ram.crank_angle))
lever_direction = (true + np.radians(5), "rad")
# %% ram-at-answer
ram_at = (ram.height_mm / np.tan(lever_direction[0]), "mm")
