"""The notebook is a link to somebody else's."""

import json

MARK = None
SAYS = "links are not followed"


def hand_in(folder, notebook):
    other = folder.parent / "other.ipynb"
    other.write_text(json.dumps(notebook))
    (folder / "four-links.ipynb").symlink_to(other)
