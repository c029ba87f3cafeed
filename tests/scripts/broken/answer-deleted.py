"""An answer cell is deleted."""

import json

MARK = 35
SAYS = "“stroke-answer” is missing"


def hand_in(folder, notebook):
    notebook["cells"] = [c for c in notebook["cells"] if c["id"] != "stroke-answer"]
    (folder / "four-links.ipynb").write_text(json.dumps(notebook))
