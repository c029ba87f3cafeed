"""The notebook is in the format of ten years ago."""

import json

MARK = None
SAYS = "old format"


def hand_in(folder, notebook):
    (folder / "four-links.ipynb").write_text(json.dumps({"nbformat": 3, "worksheets": [{"cells": notebook["cells"]}]}))
