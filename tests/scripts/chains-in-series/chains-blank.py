# The list of chains as it was handed out: nothing of 5 marks.
# mark: 18
# %% quay-chains-answer
quay_chains = [{"kind": "", "fixed": "", "input": "", "coupler": "", "output": ""}]
