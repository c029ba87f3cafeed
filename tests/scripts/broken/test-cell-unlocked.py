"""A marking cell is unlocked, called an answer, and emptied."""

import json

MARK = 35
SAYS = "were changed (stroke-is-right)"


def hand_in(folder, notebook):
    next(c for c in notebook["cells"] if c["id"] == "stroke-answer")["source"] = "stroke = '1 mm'"
    next(c for c in notebook["cells"] if c["id"] == "stroke-is-right")["source"] = "pass"
    next(c for c in notebook["cells"] if c["id"] == "stroke-is-right")["metadata"]["nbgrader"] |= {
        "locked": False,
        "solution": True,
        "grade": False,
    }
    (folder / "four-links.ipynb").write_text(json.dumps(notebook))
