# The Python process is crashed.
# mark: 36
# says: It crashed the Python process
# %% lamp-class-answer
import ctypes

ctypes.string_at(0)
