# The force on the guide instead of that on the blade: a half of 3 marks.
# mark: 21.5
# %% side-push-answer
rod = np.arcsin((loaded.offset - loaded.crank * np.sin(loaded.crank_angle)) / loaded.rod)
side_push = (loaded.load * np.tan(rod), "N")
