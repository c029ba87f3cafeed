"""The text of an answer cell is a number."""

import json

MARK = 35
SAYS = "can't be read"


def hand_in(folder, notebook):
    next(c for c in notebook["cells"] if c["id"] == "stroke-answer")["source"] = 12
    (folder / "four-links.ipynb").write_text(json.dumps(notebook))
