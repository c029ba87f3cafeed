"""The notebook of an assignment is what its questions make it."""

import re
from pathlib import Path

import nbformat
import pytest

from linkkit.coursework import find_assignment
from linkkit.coursework.papers import OUTLINES
from linkkit.coursework.release import OWN_CODE, build_assignment, write_assignment

COURSE = Path(__file__).parents[2] / "exercises"
PAPER = find_assignment("four-links")


@pytest.mark.parametrize("name", OUTLINES)
def test_committed_notebook_is_the_one_that_is_built(name, tmp_path):
    built = write_assignment(name, tmp_path).read_text(encoding="utf-8")
    committed = (COURSE / "source" / name / f"{name}.ipynb").read_text(encoding="utf-8")
    assert built == committed, f"write it anew: python -m linkkit.coursework.release {name}"
    nbformat.validate(nbformat.reads(built, as_version=4))


@pytest.mark.parametrize("name", OUTLINES)
def test_marks_of_every_paper_add_up(name):
    marked = [c for c in build_assignment(name).cells if c.metadata.nbgrader.grade]
    assert sum(c.metadata.nbgrader.points for c in marked) == find_assignment(name).marks


def test_own_code_and_hand_marking_are_said_in_the_release():
    cells = {c.id: c for c in build_assignment("mixed-paper").cells}
    assert OWN_CODE in cells["slider-x-statement"].source
    by_hand = cells["shaker-diagram-answer"]
    assert (by_hand.cell_type, by_hand.metadata.nbgrader.grade) == ("markdown", True)
    assert "Marked by a tutor" in cells["shaker-diagram-statement"].source


def test_notebook_is_valid_and_cells_have_their_own_names():
    notebook = build_assignment("four-links")
    nbformat.validate(notebook)
    names = [cell.id for cell in notebook.cells]
    assert len(set(names)) == len(names)
    assert all(cell.metadata.nbgrader.grade_id == cell.id for cell in notebook.cells)


def test_marks_add_up_and_each_marked_cell_names_its_claim():
    marked = [c for c in build_assignment("four-links").cells if c.metadata.nbgrader.grade]
    assert sum(c.metadata.nbgrader.points for c in marked) == PAPER.marks
    assert [c.id for c in marked] == [f"{q.id.replace('_', '-')}-is-{q.claim}" for q in PAPER.questions]


@pytest.mark.parametrize("question", PAPER.questions, ids=lambda q: q.id)
def test_statement_gives_marks_and_how_it_is_compared(question):
    cells = {cell.id: cell for cell in build_assignment("four-links").cells}
    statement = cells[f"{question.id.replace('_', '-')}-statement"].source
    assert f"({question.marks:g} marks)" in statement
    assert question.kind.sentence() in statement


def test_solutions_stand_in_regions_that_nbgrader_cuts_out():
    for cell in build_assignment("four-links").cells:
        if cell.metadata.nbgrader.solution:
            kept = re.sub(r"( *)### BEGIN SOLUTION.*?### END SOLUTION", "", cell.source, flags=re.DOTALL)
            assert kept != cell.source
            compile(kept, cell.id, "exec")
            assert "lk." not in kept
