"""A hundred cells of the student's own, each as long as a cell may be."""

import json

MARK = 38
SAYS = "too long to be run"


def hand_in(folder, notebook):
    notebook["cells"] += [
        {"cell_type": "code", "id": f"x{n}", "metadata": {}, "source": "#" + "x" * 99_000} for n in range(150)
    ]
    (folder / "four-links.ipynb").write_text(json.dumps(notebook))
