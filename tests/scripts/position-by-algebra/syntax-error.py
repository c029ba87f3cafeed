# An answer that Python cannot read: nothing of 3 marks.
# mark: 16
# %% other-circuit-answer
other_circuit = (3 +, "deg")
