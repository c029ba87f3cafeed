# A crank that is not the shortest link, so it does not turn fully: nothing of 6 marks.
# mark: 34
# %% new-shaker-answer
new_shaker = {"ground OQ": "300 mm", "crank OA": "250 mm", "coupler AB": "200 mm", "rocker QB": "280 mm"}
