"""A marking cell is doubled, and the copy passes always."""

import copy
import json

MARK = 35
SAYS = "were doubled (stroke-is-right)"


def hand_in(folder, notebook):
    next(c for c in notebook["cells"] if c["id"] == "stroke-answer")["source"] = "stroke = '1 mm'"
    notebook["cells"].append(
        copy.deepcopy(next(c for c in notebook["cells"] if c["id"] == "stroke-is-right"))
        | {"source": "pass", "id": "copy"}
    )
    (folder / "four-links.ipynb").write_text(json.dumps(notebook))
