"""What marking leaves out for the sake of pace costs no mark, and leaves nothing half done."""

import numpy as np
import pytest
from cohorts import filled_in, released, right_cells

from linkkit.coursework import find_assignment
from linkkit.marking import numbers
from linkkit.marking.course import Course, write_whole
from linkkit.marking.handed_in import HandedIn
from linkkit.marking.one_script import Marker, Task

PAPERS = "four-links", "mixed-paper", "forces"
DRAWN = """
class Drawn:
    times = 0

    def _repr_svg_(self):
        Drawn.times += 1

    _repr_png_ = _repr_html_ = _repr_svg_

display(Drawn())
lamp_class = lamp_class if Drawn.times == 0 else "rendered"
"""


@pytest.mark.parametrize("paper", PAPERS)
def test_numbers_drawn_for_many_are_those_drawn_for_one(paper):
    assignment = find_assignment(paper)
    students = [f"together{n}" for n in range(2 * numbers.AT_ONCE + 3)]
    scripts = numbers.with_numbers(assignment, students, (HandedIn(s) for s in students[1::5]))
    for handed in scripts:
        assignment.seen.clear()
        alone = numbers.plain(assignment, handed.student)
        numbers.take_over(assignment, handed)
        assert len(assignment.seen) == len(assignment.settings)
        assert numbers.plain(assignment, handed.student) == alone
        assert all(np.ndim(value) == 0 for setting in handed.numbers.values() for value in setting.values())


@pytest.mark.needs_bubblewrap
def test_what_is_displayed_is_not_rendered():
    cells = right_cells()
    cells["lamp-class-answer"] += DRAWN
    with Marker(Task("four-links", released(), "a key")) as marker:
        marked = marker.mark(HandedIn("ab123", filled_in(cells, "ab123")))
    assert marked.marks == find_assignment("four-links").marks, marked.verdicts


@pytest.mark.parametrize("spoilt", ["notebook", "page"])
def test_files_cut_short_by_a_power_cut_are_made_again(tmp_path, spoilt):
    course = Course(tmp_path, "")
    files = {"notebook": course.marked_notebook("x", "ab123"), "page": course.page("x", "ab123")}
    write_whole(files["notebook"], '{"cells": []}')
    assert not course.written("x", "ab123")
    write_whole(files["page"], "<html></html>\n")
    assert course.written("x", "ab123")
    for left in (b"", files[spoilt].read_bytes()[:-4], files[spoilt].read_bytes()[:-4] + bytes(4)):
        files[spoilt].write_bytes(left)
        assert not course.written("x", "ab123")
