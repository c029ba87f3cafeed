"""A copy of a marking cell with a thousand points stands before the answer."""

import copy
import json

MARK = 35
SAYS = "were doubled"


def hand_in(folder, notebook):
    next(c for c in notebook["cells"] if c["id"] == "stroke-answer")["source"] = "stroke = '1 mm'"
    extra = copy.deepcopy(next(c for c in notebook["cells"] if c["id"] == "stroke-is-right")) | {
        "source": "1000",
        "id": "copy",
    }
    extra["metadata"]["nbgrader"]["points"] = 1000
    notebook["cells"].insert(0, extra)
    (folder / "four-links.ipynb").write_text(json.dumps(notebook))
