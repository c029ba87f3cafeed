"""The notebook of an assignment is what its questions make it."""

import re
from pathlib import Path

import nbformat
import pytest

from linkkit.coursework import find_assignment
from linkkit.coursework.release import build_assignment, write_assignment

COURSE = Path(__file__).parents[2] / "exercises"
PAPER = find_assignment("four-links")


def test_committed_notebook_is_the_one_that_is_built(tmp_path):
    built = write_assignment("four-links", tmp_path).read_text(encoding="utf-8")
    committed = (COURSE / "source" / "four-links" / "four-links.ipynb").read_text(encoding="utf-8")
    assert built == committed, "write it anew: python -m linkkit.coursework.release four-links"


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
