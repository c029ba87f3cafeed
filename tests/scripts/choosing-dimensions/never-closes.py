# A machine that cannot be put together, and nothing else done.
# mark: 0
# only these cells
# %% new-shaker-answer
new_shaker = {"ground OQ": "900 mm", "crank OA": "10 mm", "coupler AB": "20 mm", "rocker QB": "30 mm"}
