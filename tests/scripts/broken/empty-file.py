"""The file is empty."""

MARK = None
SAYS = "damaged"


def hand_in(folder, notebook):
    (folder / "four-links.ipynb").write_bytes(b"")
