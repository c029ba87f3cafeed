import json
import os
import struct


def tell(body):
    for fd in range(3, 64):
        try:
            os.write(fd, struct.pack(">I", len(body)) + body)
        except OSError:
            pass
