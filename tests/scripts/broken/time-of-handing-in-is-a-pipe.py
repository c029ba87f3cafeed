"""There is a pipe in place of the time of handing in, and a link in place of the slip."""

import json
import os

MARK = 38
SAYS = ""


def hand_in(folder, notebook):
    os.mkfifo(folder / "timestamp.txt")
    (folder / "submission_secret.txt").symlink_to("/etc/passwd")
    (folder / "four-links.ipynb").write_text(json.dumps(notebook))
