# Return over cut: a half of 2 marks.
# mark: 19
# %% lever-ratio-answer
half = np.degrees(np.arcsin(lever.crank / lever.ground))
lever_ratio = (180 - 2 * half) / (180 + 2 * half)
