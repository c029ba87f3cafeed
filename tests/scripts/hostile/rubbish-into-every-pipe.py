# Bytes that are no message are written into every open file descriptor.
# mark: 36
# %% lamp-class-answer
import os

for fd in range(3, 64):
    try:
        os.write(fd, b"\xff" * 64)
    except OSError:
        pass
