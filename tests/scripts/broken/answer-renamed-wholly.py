"""An answer cell has lost nbgrader's name and its id: it runs as a cell of the student's own."""

import json

MARK = 38
SAYS = "“stroke-answer” is missing"


def hand_in(folder, notebook):
    next(c for c in notebook["cells"] if c["id"] == "stroke-answer").update(metadata={}, id="0a1b2c3d")
    (folder / "four-links.ipynb").write_text(json.dumps(notebook))
