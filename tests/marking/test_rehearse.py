"""The lecturer's dry run, and the scripts in tests/scripts through nbgrader's own commands."""

import warnings
from dataclasses import replace
from pathlib import Path

import nbformat
import pytest
from click.testing import CliRunner
from running import SCRIPTS, handed_in, header

from linkkit.coursework import find_assignment
from linkkit.coursework.papers import OUTLINES
from linkkit.marking import rehearse, stock
from linkkit.marking.rehearse_run import Outcome, Rehearsed
from linkkit.marking.rehearse_scripts import HOSTILE, cast, expected
from linkkit.marking.scripts import Script, all_wrong

PAPER = find_assignment("four-links")
COURSE = Path(__file__).parents[2] / "exercises"


def run(*words):
    return CliRunner().invoke(rehearse.command, words)


@pytest.mark.needs_bubblewrap
def test_rehearsal_agrees_and_leaves_its_papers(tmp_path, monkeypatch):
    monkeypatch.setattr(rehearse.tempfile, "mkdtemp", lambda prefix: str(tmp_path))
    done = run("--assignment", "crank-and-slider", "--students", "9")
    assert done.exit_code == 0, done.output
    assert "9 of 9 agree." in done.output
    assert len(list(tmp_path.glob("worked-solution-*.html"))) == 1
    assert "untried" in done.output  # nine ids can't hold every known wrong answer
    assert len(list(tmp_path.glob("feedback/*/crank-and-slider/crank-and-slider.html"))) == 9
    released = nbformat.read(tmp_path / "release" / "crank-and-slider" / "crank-and-slider.ipynb", as_version=4)
    for cell in released.cells:
        if cell.metadata.nbgrader.solution:
            assert "SOLUTION" not in cell.source
            assert "lk." not in cell.source


@pytest.mark.parametrize(("asked", "marker"), [(None, "nbgrader"), ("nbgrader", "nbgrader")])
def test_without_a_sandbox_nbgrader_marks_our_own_scripts(asked, marker, monkeypatch):
    def none():
        raise rehearse.NoSandbox("there is none")

    monkeypatch.setattr(rehearse, "check_sandbox", none)
    assert rehearse._marker(asked, hostile=False) == marker
    for by, hostile in (("linkkit", False), (None, True)):
        with pytest.raises(rehearse.NoSandbox):
            rehearse._marker(by, hostile=hostile)


@pytest.mark.parametrize("name", OUTLINES)
def test_every_known_wrong_answer_is_handed_in(name):
    paper = find_assignment(name)
    company = cast(paper)
    faults = {script.fault for script in company.scripts}
    assert faults >= {f"{question.id}: {known.code}" for question, known in all_wrong(paper)}
    assert {"right", "untouched", "cell-deleted", "syntax-error"} <= faults
    assert (company.untried, company.left) == ((), 0)


def test_what_a_script_deserves_adds_up():
    for script in cast(PAPER, hostile=True).scripts:
        assert sum(expected(PAPER, script).values()) == pytest.approx(script.expected), script.fault


def test_two_hundred_ids_are_two_hundred_scripts():
    scripts = cast(find_assignment("another-link-fixed"), 200).scripts
    assert len({script.student for script in scripts}) == len(scripts) == 200


def test_hostile_scripts_come_on_request():
    assert {s.fault for s in cast(PAPER, 4, hostile=True).scripts} >= set(HOSTILE)
    assert not {s.fault for s in cast(PAPER, 4).scripts} & set(HOSTILE)


def rehearsed(**changed):
    """A rehearsal of three scripts in which everything agrees but what is changed in the second."""
    scripts = cast(PAPER, 3).scripts
    outcomes = [Outcome(s, expected(PAPER, s), dict(expected(PAPER, s)), True) for s in scripts]
    outcomes[1] = replace(outcomes[1], **changed)
    return Rehearsed(PAPER, cast(PAPER, 3), tuple(outcomes))


def test_a_mark_that_differs_ends_the_rehearsal_with_an_error(monkeypatch):
    spoilt = expected(PAPER, cast(PAPER, 3).scripts[1]) | {"swing": 1.0}
    monkeypatch.setattr(rehearse, "rehearse", lambda *a, **k: rehearsed(given=spoilt))
    monkeypatch.setattr(rehearse, "check_sandbox", lambda: None)
    done = run("--assignment", "four-links")
    assert done.exit_code == 1
    assert "2 of 3 agree." in done.output
    assert [line for line in done.output.splitlines() if "swing" in line and "DIFFERS" in line]


@pytest.mark.parametrize(("changed", "agrees"), [({}, True), ({"feedback": False}, False), ({"given": {}}, False)])
def test_agreement_wants_marks_and_feedback(changed, agrees):
    assert rehearsed(**changed).agrees == agrees


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["--assignment", "five-links"], "there is no assignment five-links"),
        (["--hostile", "--by", "nbgrader", "--all"], "has no sandbox"),
        (["--course", "."], "holds no assignment"),
    ],
)
def test_wrong_use_is_answered(words, says, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(rehearse, "check_sandbox", lambda: None)
    done = run(*words)
    assert done.exit_code != 0
    assert says in done.output + str(done.exception)


def test_a_course_that_is_not_there_is_named(tmp_path):
    with pytest.raises(stock.CourseError, match="name the nbgrader course with --course"):
        stock.scratch_course(tmp_path, "four-links", tmp_path / "scratch")


def test_a_failing_command_shows_the_end_of_its_log(tmp_path):
    with pytest.raises(stock.CourseError, match="nbgrader autograde failed:"):
        stock.nbgrader(tmp_path, "autograde", "no-such-assignment")


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
