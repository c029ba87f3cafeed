# A message with a number that is infinite once it has been read.
# mark: 36
# %% lamp-class-answer
# brings: tell
tell(b'{"answer": "lamp-class-is-right", "raw": 1e999}')
os._exit(0)
