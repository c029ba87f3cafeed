"""The folder is a link to somebody else's."""

import json

MARK = None
SAYS = "links are not followed"


def hand_in(folder, notebook):
    other = folder.parent / "other"
    folder.rename(other)
    (other / "four-links.ipynb").write_text(json.dumps(notebook))
    folder.symlink_to(other)
