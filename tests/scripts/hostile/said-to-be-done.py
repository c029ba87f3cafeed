# The script says that it has come to its end, and ends.
# mark: 36
# %% lamp-class-answer
# brings: tell
tell(b'{"done": true, "typed": "zz999"}')
os._exit(0)
