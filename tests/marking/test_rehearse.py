"""The lecturer's dry run and the scripts in tests/scripts, through nbgrader's own commands."""

import warnings
from pathlib import Path

import nbformat
import pytest
from click.testing import CliRunner
from running import SCRIPTS, handed_in, header

from linkkit.coursework import find_assignment
from linkkit.marking import rehearse, stock
from linkkit.marking.scripts import Script, all_wrong, invented

PAPER = find_assignment("four-links")
COURSE = Path(__file__).parents[2] / "exercises"


def test_rehearsal_agrees_and_leaves_its_papers(tmp_path, monkeypatch):
    monkeypatch.setattr(rehearse.tempfile, "mkdtemp", lambda prefix: str(tmp_path))
    done = CliRunner().invoke(rehearse.command, ["--students", "4"])
    assert done.exit_code == 0, done.output
    assert "4 of 4 agree." in done.output
    assert "worked solution" in (tmp_path / "solution.html").read_text(encoding="utf-8").lower()
    assert len(list(tmp_path.glob("feedback/*/four-links/four-links.html"))) == 4
    released = nbformat.read(tmp_path / "release" / "four-links" / "four-links.ipynb", as_version=4)
    for cell in released.cells:
        if cell.metadata.nbgrader.solution:
            assert "SOLUTION" not in cell.source
            assert "lk." not in cell.source


def test_a_mark_that_differs_ends_the_rehearsal_with_an_error(tmp_path, monkeypatch):
    for step in ("scratch_course", "nbgrader", "hand_in"):
        monkeypatch.setattr(stock, step, lambda *a, **k: None)
    monkeypatch.setattr(rehearse, "write_solution", lambda *a: None)
    monkeypatch.setattr(rehearse, "_has_feedback", lambda *a: True)
    given = {s.student: s.expected for s in invented(PAPER, 3)} | {"quay0002": 1.0}
    monkeypatch.setattr(stock, "marks", lambda *a: given)
    monkeypatch.setattr(rehearse.tempfile, "mkdtemp", lambda prefix: str(tmp_path))
    done = CliRunner().invoke(rehearse.command, ["--students", "3"])
    assert done.exit_code == 1
    assert "DIFFERS" in done.output
    assert "2 of 3 agree." in done.output


def test_a_course_that_is_not_there_is_named(tmp_path):
    with pytest.raises(stock.CourseError, match="name the nbgrader course with --course"):
        stock.scratch_course(tmp_path, "four-links", tmp_path / "scratch")


def test_a_failing_command_shows_the_end_of_its_log(tmp_path):
    with pytest.raises(stock.CourseError, match="nbgrader autograde failed:"):
        stock.nbgrader(tmp_path, "autograde", "no-such-assignment")


def test_enough_students_meet_every_misconception():
    faults = {script.fault for script in invented(PAPER, 2 * len(all_wrong(PAPER)))}
    assert faults >= {f"{question.id}: {known.code}" for question, known in all_wrong(PAPER)}


# those that nbgrader could take otherwise than we do; the rest is run in this process by test_scripts.py
FOR_NBGRADER = (
    "right", "nothing-done", "syntax-error", "answer-raises", "function-exits", "function-prints-and-warns",
    "warning-in-an-answer", "some-rows-of-the-table", "unit-missing", "pint-quantity",
)  # fmt: skip


@pytest.fixture(scope="module")
def marked_by_nbgrader(tmp_path_factory):
    """Scripts of tests/scripts handed in to one course and marked by `nbgrader autograde`."""
    scratch = tmp_path_factory.mktemp("course")
    stock.scratch_course(COURSE, "four-links", scratch)
    stock.nbgrader(scratch, "generate_assignment", "four-links")
    scripts = []
    for n, path in enumerate(SCRIPTS / "four-links" / f"{fault}.py" for fault in FOR_NBGRADER):
        student = f"script{n:02d}"
        cells = {"your-id": f'student_id = "{student}"'} | handed_in(path)
        cells = {name: text.replace("{student}", student) for name, text in cells.items()}
        scripts.append(Script(student, path.stem, float(header(path)), cells))
    stock.hand_in(scratch, "four-links", scripts)
    stock.nbgrader(scratch, "autograde", "four-links")
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        return scripts, stock.marks(scratch, "four-links")


def test_nbgrader_gives_scripts_the_mark_in_its_file(marked_by_nbgrader):
    scripts, given = marked_by_nbgrader
    expected = {s.fault: s.expected for s in scripts}
    assert {s.fault: given[s.student] for s in scripts} == pytest.approx(expected, abs=0.005)
