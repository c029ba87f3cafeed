"""The notebook is a folder."""

MARK = None
SAYS = "no plain file"


def hand_in(folder, notebook):
    (folder / "four-links.ipynb").mkdir()
