# Only the first of two chains: a half of 5 marks.
# mark: 20.5
# %% chains-of-six-answer
crank, between, pivoted, *_ = str(numbered.digits)
chains_of_six = [{"kind": "four-bar", "fixed": "1", "input": crank, "coupler": between, "output": pivoted}]
