# The motions of the usual slider-crank, a quarter of 4 marks.
# mark: 15
# %% link-kinds-answer
link_kinds = {"ground": "fixed", "crank": "fixed-axis rotation", "rod": "combined motion", "slider": "translation"}
