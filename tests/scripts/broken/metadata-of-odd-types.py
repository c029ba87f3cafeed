"""Names and metadata are numbers, lists and nothing."""

import json

MARK = 35
SAYS = "is missing"


def hand_in(folder, notebook):
    next(c for c in notebook["cells"] if c["id"] == "stroke-answer").update(metadata=7, id=["a"])
    next(c for c in notebook["cells"] if c["id"] == "swing-answer").update(
        metadata={"nbgrader": [1]}, id=None, source=[1, 2]
    )
    (folder / "four-links.ipynb").write_text(json.dumps(notebook))
