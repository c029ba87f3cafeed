"""The cell that gives the marks of a wrong answer is deleted."""

import json

MARK = 35
SAYS = "were deleted (stroke-is-right)"


def hand_in(folder, notebook):
    next(c for c in notebook["cells"] if c["id"] == "stroke-answer")["source"] = "stroke = '1 mm'"
    notebook["cells"] = [c for c in notebook["cells"] if c["id"] != "stroke-is-right"]
    (folder / "four-links.ipynb").write_text(json.dumps(notebook))
