"""The file is a picture."""

MARK = None
SAYS = "not in UTF-8"


def hand_in(folder, notebook):
    (folder / "four-links.ipynb").write_bytes(b"\x89PNG\r\n\x1a\n" + bytes(range(256)))
