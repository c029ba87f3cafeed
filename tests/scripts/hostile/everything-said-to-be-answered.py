# Messages say that every question is answered and the script at its end, with pages and formulas as answers.
# mark: 36
# absent: <script>
# %% lamp-class-answer
import json
import os
import struct


def tell(message):
    body = json.dumps(message).encode()
    for fd in range(3, 64):
        try:
            os.write(fd, struct.pack(">I", len(body)) + body)
        except OSError:
            pass


for name in ("lamp-class", "hatch-class", "rocker-angle", "far-limit", "swing", "time-ratio", "rocker-at", "stroke"):
    tell({"answer": f"{name}-is-right", "raw": "=1+1 <script>alert(1)</script>"})
    tell({"ran": f"{name}-answer", "printed": "<script>alert(1)</script>", "error": "\x1b[2J"})
tell({"done": True, "typed": "<script>"})
os._exit(0)
