"""Names of cells are lists, tables, halves of characters and signs that turn terminals."""

import json

MARK = 38
SAYS = ""


def hand_in(folder, notebook):
    odd = ([], {}, "\ud800", "\x1b[2J\n", 0, None, "../../x", "your-id\x00")
    notebook["cells"] += [
        {"cell_type": "code", "id": name, "metadata": {"nbgrader": {"grade_id": name}}, "source": "1", "attachments": 5}
        for name in odd
    ]
    (folder / "four-links.ipynb").write_text(json.dumps(notebook))
