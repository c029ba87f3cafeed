"""The notebook asks for another kernel and language."""

import json

MARK = 38
SAYS = ""


def hand_in(folder, notebook):
    notebook["metadata"]["kernelspec"] = {"name": "bash", "display_name": "Bash", "language": "bash"}
    (folder / "four-links.ipynb").write_text(json.dumps(notebook))
