# Numbers without their names instead of the table, and nothing else done.
# mark: 0
# only these cells
# %% new-gauge-answer
new_gauge = [120, 250, 180]
