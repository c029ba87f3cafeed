"""The file has more than twenty megabytes."""

import json

MARK = None
SAYS = "MB are read"


def hand_in(folder, notebook):
    notebook["padding"] = "x" * 21_000_000
    (folder / "four-links.ipynb").write_text(json.dumps(notebook))
