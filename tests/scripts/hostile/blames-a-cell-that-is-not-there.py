# The script lays its end at the door of another cell, which there is not.
# mark: 36
# %% lamp-class-answer
# brings: tell
tell(b'{"at": "nowhere"}')
os._exit(0)
