"""The file holds a number of a million digits."""

MARK = None
SAYS = "damaged"


def hand_in(folder, notebook):
    (folder / "four-links.ipynb").write_text('{"cells": [], "nbformat": ' + "9" * 1_000_000 + "}")
