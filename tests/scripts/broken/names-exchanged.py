"""Two answer cells claim each other's names."""

import json

MARK = 38
SAYS = ""


def hand_in(folder, notebook):
    first, second = (
        next(c for c in notebook["cells"] if c["id"] == "stroke-answer"),
        next(c for c in notebook["cells"] if c["id"] == "swing-answer"),
    )
    first["metadata"], second["metadata"] = second["metadata"], first["metadata"]
    (folder / "four-links.ipynb").write_text(json.dumps(notebook))
