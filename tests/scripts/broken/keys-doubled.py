"""Keys that stand twice in the file, and numbers that JSON does not have."""

import json

MARK = 38
SAYS = ""


def hand_in(folder, notebook):
    text = json.dumps(notebook | {"metadata": {"x": float("nan"), "y": float("inf")}})
    text = text.replace('"cell_type"', '"cell_type": "raw", "id": NaN, "source": -Infinity, "cell_type"')
    (folder / "four-links.ipynb").write_text('{"cells": {}, ' + text[1:])
