"""Two notebooks of other names were handed in."""

import json

MARK = None
SAYS = "2 notebooks of other names"


def hand_in(folder, notebook):
    for name in ("draft.ipynb", "final.ipynb"):
        (folder / name).write_text(json.dumps(notebook))
