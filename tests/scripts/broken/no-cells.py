"""The file is JSON but no notebook."""

import json

MARK = None
SAYS = "has no cells"


def hand_in(folder, notebook):
    (folder / "four-links.ipynb").write_text(json.dumps([1, 2, {"cells": 3}]))
