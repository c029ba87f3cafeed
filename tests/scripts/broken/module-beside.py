"""A file beside the notebook has the name of a module that answers import."""

import json

MARK = 38
SAYS = ""


def hand_in(folder, notebook):
    for name in ("math.py", "numpy.py", "linkkit.py"):
        (folder / name).write_text("raise SystemExit('the wrong one')")
    (folder / "four-links.ipynb").write_text(json.dumps(notebook))
