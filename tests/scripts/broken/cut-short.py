"""The file was cut while it was saved."""

import json

MARK = None
SAYS = "damaged"


def hand_in(folder, notebook):
    (folder / "four-links.ipynb").write_text(json.dumps(notebook)[:900])
