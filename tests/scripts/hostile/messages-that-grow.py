# Messages of letters that take six times the room once they are written anew.
# mark: 36
# %% lamp-class-answer
# brings: tell
for size in (1_000_000, 490_000, 240_000, 100_000):
    tell(b'{"x": "' + "é".encode() * size + b'"}')
