"""Twenty megabytes of empty tables, each of which takes thirty times its room in memory."""

MARK = None
SAYS = "too many tables"


def hand_in(folder, notebook):
    (folder / "four-links.ipynb").write_text('{"cells": [' + "{}," * 6_600_000 + "{}]}")
