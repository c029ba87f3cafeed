"""Every cell has lost nbgrader's names; the ids are still there."""

import json

MARK = 38
SAYS = ""


def hand_in(folder, notebook):
    for cell in notebook["cells"]:
        cell["metadata"] = {}
    (folder / "four-links.ipynb").write_text(json.dumps(notebook))
