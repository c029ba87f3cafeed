"""The cell that opens the paper is changed to open one of the student's own."""

import json

MARK = 38
SAYS = "were changed (set-up)"


def hand_in(folder, notebook):
    next(c for c in notebook["cells"] if c["id"] == "set-up")["source"] = "paper = None"
    (folder / "four-links.ipynb").write_text(json.dumps(notebook))
