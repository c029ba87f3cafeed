# Memory is taken, and its want is caught, for ever.
# mark: 36
# %% lamp-class-answer
taken = []
while True:
    try:
        taken.append(bytearray(50_000_000))
    except MemoryError:
        pass
