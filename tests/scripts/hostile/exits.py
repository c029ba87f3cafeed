# The Python process is ended in the middle.
# mark: 36
# says: It ended the Python process
# %% lamp-class-answer
import os

os._exit(0)
