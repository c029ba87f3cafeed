"""The notebook's name is of bytes that are no text, ends lines and turns terminals."""

import json
import os

MARK = 38
SAYS = "is taken for"


def hand_in(folder, notebook):
    name = os.path.join(os.fsencode(folder), b"\xff\xfe\n\x1b[2J<b>\xe2\x80\xae.ipynb")
    with open(name, "w") as out:
        out.write(json.dumps(notebook))
