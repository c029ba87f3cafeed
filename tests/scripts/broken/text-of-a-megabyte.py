"""An answer cell holds a megabyte of text."""

import json

MARK = 35
SAYS = "characters, more than"


def hand_in(folder, notebook):
    next(c for c in notebook["cells"] if c["id"] == "stroke-answer")["source"] += "\n#" + "x" * 1_000_000
    (folder / "four-links.ipynb").write_text(json.dumps(notebook))
