"""The file is a list in a list in a list."""

MARK = None
SAYS = "nested too deeply"


def hand_in(folder, notebook):
    (folder / "four-links.ipynb").write_text("[" * 200_000 + "]" * 200_000)
