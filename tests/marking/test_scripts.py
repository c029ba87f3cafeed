"""Every script in tests/scripts gets the mark that stands in its file, and a sentence."""

import sys
import warnings

import pytest
from running import SCRIPTS, cells_of, handed_in, header, run, stands_alone

import linkkit
from linkkit.coursework import find_assignment
from linkkit.coursework.answers import Number
from linkkit.coursework.papers import OUTLINES
from linkkit.marking.scripts import answer_cell

ALL = sorted(path for name in OUTLINES for path in (SCRIPTS / name).glob("*.py"))
STUDENT = "ab123"


def name(path):
    return f"{path.parent.name}: {path.stem}"


@pytest.fixture
def marked(being_marked):
    being_marked(STUDENT)

    def mark(path, student=STUDENT):
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            found = run(path.parent.name, handed_in(path), student)
        assert sys.modules["linkkit"] is linkkit
        return {cell: m.verdict for cell, m in found.items()}

    return mark


@pytest.mark.parametrize("path", ALL, ids=name)
def test_mark_is_the_one_in_the_file(path, marked):
    """And only the answer that is spoilt loses marks, and says why, without giving the right number away."""
    verdicts = marked(path)
    given = sum(verdict.marks for verdict in verdicts.values())
    if header(path) == "part":
        assert 32 < given < 32 + 6 / 2, "part of half of the function's six marks"
    else:
        assert given == pytest.approx(float(header(path)), abs=0.005), short_of(verdicts)
    assert stands_alone(path) or set(short_of(verdicts)) <= set(cells_of(path))
    for answer, verdict in short_of(verdicts).items():
        assert len(verdict.says.split()) > 5, f"{answer} says too little: {verdict.says}"
    for cell, verdict in verdicts.items():
        assert_gives_nothing_away(path.parent.name, cell, verdict)


def short_of(verdicts):
    """The verdicts that are short of full marks, by the cell of the answer."""
    return {cell.partition("-is-")[0] + "-answer": v for cell, v in verdicts.items() if v.marks != v.of}


def assert_gives_nothing_away(paper, cell, verdict):
    paper = find_assignment(paper)
    question = paper.by_id[cell.partition("-is-")[0].replace("-", "_")]
    if isinstance(question.kind, Number) and question.kind.unit:
        right = question.right(paper.givens(question.setting, STUDENT))
        assert question.kind.show(right).split()[0] not in verdict.says


@pytest.mark.parametrize("paper", OUTLINES)
def test_every_paper_has_right_wrong_blank_and_broken_scripts(paper):
    marks = [header(path) for path in (SCRIPTS / paper).glob("*.py")]
    assert {"0", f"{find_assignment(paper).marks_by_machine:g}"} < set(marks)
    assert len(marks) >= 5
    carries = any(q.needs for q in find_assignment(paper).questions)
    assert not carries or any("carried" in path.stem for path in (SCRIPTS / paper).glob("*.py")), "no carried error"


def test_right_script_has_an_answer_for_every_question():
    answered = set(cells_of(SCRIPTS / "four-links" / "right.py")) - {"your-id"}
    assert answered == {answer_cell(q) for q in find_assignment("four-links").questions}


def test_right_script_is_right_for_many_ids(being_marked):
    cells = handed_in(SCRIPTS / "four-links" / "right.py")
    for n in range(40):
        student = f"right{n}"
        being_marked(student)
        lost = {c: m.verdict for c, m in run("four-links", cells, student).items() if m.verdict.code != "right"}
        assert not lost, f"{student}: {lost}"
