"""Every lesson leaves key frames and a table that nobody typed, for when nothing runs."""

import base64

import pytest

from rhythm import all_notebooks, source
from stills import MOTIONS, still_cell, still_of

PNG = b"\x89PNG\r\n\x1a\n"


@pytest.mark.parametrize("path", [p for p in all_notebooks() if p.name[:2] in MOTIONS], ids=lambda path: path.name[:2])
def test_a_lesson_leaves_its_motion_behind(path):
    cell, left = still_cell(path), still_of(path)
    assert source(cell) == left.folded(), "run tests/house/stills.py: the words or the table are not those of today"
    (image,) = (base64.b64decode(picture["image/png"]) for picture in cell["attachments"].values())
    assert image.startswith(PNG)
    assert len(image) < 40_000, "an image of this size does not belong in the repository"
    assert next(iter(cell["attachments"])) in source(cell)


def test_every_lesson_is_listed():
    assert {path.name[:2] for path in all_notebooks() if path.name[:2] <= "11"} <= MOTIONS.keys()
