"""An answer cell holds halves of characters and a zero byte."""

import json

MARK = 35
SAYS = ""


def hand_in(folder, notebook):
    next(c for c in notebook["cells"] if c["id"] == "stroke-answer")["source"] = "stroke = '\ud800 \x00'"
    (folder / "four-links.ipynb").write_text(json.dumps(notebook))
