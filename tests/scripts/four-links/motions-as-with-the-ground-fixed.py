# The motions of the ordinary slider-crank: a quarter of 4 marks.
# mark: 35
# %% link-kinds-answer
link_kinds = {"ground": "fixed", "crank": "fixed-axis rotation", "rod": "combined motion", "slider": "translation"}
