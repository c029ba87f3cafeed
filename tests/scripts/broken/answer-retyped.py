"""An answer cell became a text cell."""

import json

MARK = 38
SAYS = "made another type"


def hand_in(folder, notebook):
    next(c for c in notebook["cells"] if c["id"] == "stroke-answer")["cell_type"] = "markdown"
    (folder / "four-links.ipynb").write_text(json.dumps(notebook))
