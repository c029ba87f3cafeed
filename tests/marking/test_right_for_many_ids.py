"""An honest right script scores full marks whatever the id: every paper, through the sandbox.

A few ids are tried in CI; `LINKKIT_IDS=200 pytest tests/marking/test_right_for_many_ids.py` tries as many of each paper as
were promised.
"""

import os

import pytest
from cohorts import filled_in, released
from running import SCRIPTS, handed_in

from linkkit.coursework import find_assignment
from linkkit.coursework.papers import OUTLINES
from linkkit.marking.handed_in import HandedIn
from linkkit.marking.one_script import Marker, Task
from linkkit.marking.sandbox import Box
from linkkit.marking.scripts import model_cells

pytestmark = pytest.mark.needs_bubblewrap
IDS = int(os.environ.get("LINKKIT_IDS", "2"))


@pytest.fixture(scope="module")
def boxes():
    """Sandboxes for all papers: with linkkit, and for own code."""
    with Box() as usual, Box(own_code=True) as bare:
        yield {False: usual, True: bare}


def right_cells(paper, number):
    """By hand for every other id, the model answers for the rest."""
    if number % 2:
        return {"your-id": 'student_id = "{student}"'} | model_cells(find_assignment(paper))
    return handed_in(SCRIPTS / paper / "right.py")


@pytest.mark.parametrize("paper", OUTLINES)
def test_right_script_scores_full_marks(paper, boxes):
    marker = Marker(Task(paper, released(paper), "a key of the tests' own"))
    marker.boxes = boxes
    for number in range(IDS):
        student = f"many{number:04d}"
        cells = right_cells(paper, number)
        marked = marker.mark(HandedIn(student, filled_in(cells, student, paper)))
        lost = {cell: verdict for cell, verdict in marked.verdicts.items() if verdict.marks != verdict.of}
        assert not lost, f"{student}: {lost}"
        assert (marked.marks, marked.said, marked.fault) == (marker.assignment.marks_by_machine, (), "")
