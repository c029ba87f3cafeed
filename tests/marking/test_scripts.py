"""Every script in tests/scripts gets the mark that stands in its file, and a sentence."""

import warnings

import pytest
from running import SCRIPTS, cells_of, handed_in, header, run

from linkkit.coursework import find_assignment
from linkkit.coursework.answers import Number
from linkkit.marking.scripts import answer_cell

ALL = sorted((SCRIPTS / "four-links").glob("*.py"))
STUDENT = "ab123"


def name(path):
    return path.stem


@pytest.fixture
def marked(being_marked):
    being_marked(STUDENT)

    def mark(path, student=STUDENT):
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            return run("four-links", handed_in(path), student)

    return mark


@pytest.mark.parametrize("path", ALL, ids=name)
def test_mark_is_the_one_in_the_file(path, marked):
    given = sum(float(repr(m)) for m in marked(path).values())
    if header(path) == "part":
        assert 32 < given < 32 + 6 / 2, "part of half of the function's six marks"
    else:
        assert given == pytest.approx(float(header(path)), abs=0.005)


@pytest.mark.parametrize("path", ALL, ids=name)
def test_only_the_faulty_answer_loses_marks_and_says_why(path, marked):
    spoilt = {cell.replace("-answer", "-is-right") for cell in cells_of(path)}
    verdicts = {cell: m.verdict for cell, m in marked(path).items()}
    for cell, verdict in verdicts.items():
        assert verdict.says
        if path.stem not in ("nothing-done",) and cell not in spoilt:
            assert verdict.marks == verdict.of, f"{cell} is not what {path.name} spoils: {verdict}"
        if verdict.marks < verdict.of:
            assert len(verdict.says.split()) > 5, f"{cell} says too little: {verdict.says}"


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


def test_feedback_gives_no_number_away(marked):
    paper = find_assignment("four-links")
    for path in ALL:
        for cell, m in marked(path).items():
            question = paper.by_id[cell.removesuffix("-is-right").replace("-", "_")]
            if isinstance(question.kind, Number):
                right = question.right(paper.givens(question.setting, STUDENT))
                assert question.kind.show(right).split()[0] not in m._repr_html_(), f"{path.name}: {cell}"
