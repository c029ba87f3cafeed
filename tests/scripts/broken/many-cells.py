"""Ten thousand cells were added."""

import json

MARK = None
SAYS = "cells; at most"


def hand_in(folder, notebook):
    notebook["cells"] += [{"cell_type": "code", "id": f"x{n}", "metadata": {}, "source": "1"} for n in range(10_000)]
    (folder / "four-links.ipynb").write_text(json.dumps(notebook))
