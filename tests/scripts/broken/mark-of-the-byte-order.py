"""The file begins with a mark of the order of bytes."""

import json

MARK = 38
SAYS = ""


def hand_in(folder, notebook):
    (folder / "four-links.ipynb").write_text(json.dumps(notebook), encoding="utf-8-sig")
