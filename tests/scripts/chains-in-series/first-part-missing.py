# The first part missing costs its 3 marks only; the part that builds on it is right.
# mark: 20
# %% beam-turned-answer
beam_turned = None
