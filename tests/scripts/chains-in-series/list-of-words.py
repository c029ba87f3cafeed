# A list of words for the list of chains: nothing of 5 marks.
# mark: 18
# %% quay-chains-answer
quay_chains = ["four-bar", "slider-crank"]
