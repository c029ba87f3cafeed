# A complex number: nothing of 3 marks.
# mark: 35
# %% stroke-answer
stroke = complex(0.17, 0.01)
