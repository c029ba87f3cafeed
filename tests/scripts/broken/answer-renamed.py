"""nbgrader's names were lost from an answer cell; its id is still there."""

import json

MARK = 38
SAYS = ""


def hand_in(folder, notebook):
    next(c for c in notebook["cells"] if c["id"] == "stroke-answer")["metadata"] = {}
    (folder / "four-links.ipynb").write_text(json.dumps(notebook))
