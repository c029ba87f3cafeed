"""The notebook was handed in under another name."""

import json

MARK = 38
SAYS = "is taken for four-links.ipynb"


def hand_in(folder, notebook):
    (folder / "four-links (1).ipynb").write_text(json.dumps(notebook))
