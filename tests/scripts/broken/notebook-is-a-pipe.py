"""The notebook is a pipe that nobody writes into."""

import os

MARK = None
SAYS = "no plain file"


def hand_in(folder, notebook):
    os.mkfifo(folder / "four-links.ipynb")
