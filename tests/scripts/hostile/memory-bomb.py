# Memory is taken until there is none left.
# mark: 36
# says: MemoryError
# %% lamp-class-answer
taken = []
while True:
    taken.append(bytearray(50_000_000))
