# An answer that never ends.
# mark: 36
# says: ran for more than
# %% lamp-class-answer
while True:
    pass
