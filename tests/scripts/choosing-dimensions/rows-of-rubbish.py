# No number, a word, an absurd length and an object in the rows: nothing of 5 marks, and the rest is marked.
# mark: 35
# %% two-poses-answer
two_poses = {"O, x": float("nan"), "O, y": "to the left", "Q, x": 1e300, "Q, y": object()}
