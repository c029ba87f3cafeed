"""Helpers stand in a cell that the student added; it is run, as nbgrader does."""

import json

MARK = 38
SAYS = ""


def hand_in(folder, notebook):
    at = notebook["cells"].index(next(c for c in notebook["cells"] if c["id"] == "stroke-answer"))
    lines = notebook["cells"][at]["source"]
    notebook["cells"][at]["source"] = "stroke = worked_out()"
    own = "def worked_out():\n" + "\n".join("    " + line for line in lines.splitlines()) + "\n    return stroke"
    notebook["cells"].insert(at, {"cell_type": "code", "id": "own", "metadata": {}, "source": own, "outputs": []})
    (folder / "four-links.ipynb").write_text(json.dumps(notebook))
