"""An answer cell is copied by hand, and the copy holds another answer."""

import copy
import json

MARK = 38
SAYS = "2 cells called “stroke-answer”"


def hand_in(folder, notebook):
    extra = copy.deepcopy(next(c for c in notebook["cells"] if c["id"] == "stroke-answer")) | {
        "id": "copy",
        "source": "stroke = '1 mm'",
    }
    notebook["cells"].append(extra)
    (folder / "four-links.ipynb").write_text(json.dumps(notebook))
