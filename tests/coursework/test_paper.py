"""The paper in the notebook: whose numbers, what is said before handing in, and what nbgrader is given."""

import pytest

from linkkit.coursework import find_assignment, open_paper
from linkkit.coursework.key import make_key, read_key
from linkkit.coursework.paper import NoStudentId, Paper

PAPER = find_assignment("four-links")


def right_swing(student):
    question = PAPER.by_id["swing"]
    return question.kind.show(question.right(PAPER.givens("net-shaker", student)))


@pytest.fixture
def marked_as(tmp_path, monkeypatch):
    """The paper as nbgrader opens it: in the folder of the id that the script was handed in under."""

    def opened(handed_in, typed, **answers):
        folder = tmp_path / "autograded" / handed_in / "four-links"
        folder.mkdir(parents=True)
        monkeypatch.chdir(folder)
        monkeypatch.setenv("NBGRADER_EXECUTION", "autograde")
        return open_paper("four-links", typed, answers)

    return opened


@pytest.mark.parametrize("typed", ["", "   ", None])
def test_without_an_id_the_student_is_told_where_to_type_it(typed):
    with pytest.raises(NoStudentId, match=r"There is no student id yet\. Type yours between the quotes"):
        open_paper("four-links", typed, {})


@pytest.mark.parametrize("typed", ["ab 123", "ab\t123", "x" * 65])
def test_what_can_be_no_id_is_refused(typed):
    with pytest.raises(NoStudentId, match="can't be a student id"):
        open_paper("four-links", typed, {})


def test_unknown_assignment_is_named():
    with pytest.raises(ValueError, match="there is no assignment 'five-links'; there are what-goes-in, four-links"):
        open_paper("five-links", "ab123", {})


def test_before_handing_in_nothing_is_marked(capsys):
    paper = open_paper("four-links", "ab123", {"swing": right_swing("ab123")})
    mark = paper.mark("swing")
    assert repr(mark) == "0", "nbgrader gives full marks to a result that is no number"
    assert "after you have handed in" in mark._repr_html_()
    paper.look_over("swing")
    said = capsys.readouterr().out
    assert "Its form is in order" in said
    assert "right" not in said.lower()


def test_look_over_speaks_of_the_form(capsys):
    open_paper("four-links", "ab123", {"swing": "40"}).look_over("swing")
    assert "The unit is missing" in capsys.readouterr().out


def test_marks_are_a_bare_number_and_a_sentence(marked_as):
    mark = marked_as("ab123", "ab123", swing=right_swing("ab123")).mark("swing")
    assert repr(mark) == "3"
    assert mark._repr_html_() == "<p><strong>3 of 3.</strong> Right.</p>"


def test_missing_answer_costs_only_its_own_marks(marked_as):
    paper = marked_as("ab123", "ab123", swing=right_swing("ab123"))
    assert repr(paper.mark("stroke")) == "0"
    assert "no answer here yet" in paper.mark("stroke").verdict.says
    assert repr(paper.mark("swing")) == "3"


def test_numbers_follow_the_id_it_was_handed_in_under(marked_as):
    paper = marked_as("ab123", "ab132")
    assert paper.numbers("net-shaker").plain() == PAPER.givens("net-shaker", "ab123").plain()


def test_answer_for_a_mistyped_id_is_recognised(marked_as):
    verdict = marked_as("ab123", "ab132", swing=right_swing("ab132")).mark("swing").verdict
    assert (verdict.marks, verdict.code) == (0, "other-id")
    assert "“ab132”, which stands in your notebook; it was handed in as “ab123”" in verdict.says


def test_id_may_be_left_out_of_a_script_that_was_handed_in(marked_as):
    assert marked_as("ab123", "").numbers("net-shaker").plain() == PAPER.givens("net-shaker", "ab123").plain()


def test_a_failing_marker_says_so_and_gives_nothing(marked_as, monkeypatch):
    paper = marked_as("ab123", "ab123", swing=right_swing("ab123"))
    monkeypatch.setattr("linkkit.coursework.marks.judge", lambda *a, **k: 1 / 0)
    mark = paper.mark("swing")
    assert (repr(mark), mark.verdict.marks) == ("0", None)
    assert mark.verdict.says.startswith("Not marked: the marker failed (ZeroDivisionError)")


def test_what_is_shown_is_escaped():
    paper = Paper(PAPER, "ab123", "ab123", {"swing": "<script>alert(1)</script>"})
    assert "<script>" not in paper.mark("swing")._repr_html_()


def test_inputs_of_a_function_depend_on_the_key(tmp_path, monkeypatch):
    question = PAPER.by_id["rocker_at"]
    assert (question.inputs("four-links|ab123", "one") != question.inputs("four-links|ab123", "two")).all()
    assert (question.inputs("four-links|ab123", "one") == question.inputs("four-links|ab123", "one")).all()
    assert read_key(tmp_path) == "practice"
    key = make_key(tmp_path)
    below = tmp_path / "autograded" / "ab123" / "four-links"
    below.mkdir(parents=True)
    assert read_key(below) == key == make_key(tmp_path)
    assert (tmp_path / "course.key").stat().st_mode & 0o077 == 0
    elsewhere = tmp_path / "other.key"
    elsewhere.write_text("other\n")
    monkeypatch.setenv("LINKKIT_COURSE_KEY", str(elsewhere))
    assert read_key(below) == "other"


def test_without_the_course_key_a_function_is_not_marked_for_credit(marked_as):
    question = PAPER.by_id["rocker_at"]
    drawn = PAPER.givens("net-shaker", "ab123")
    paper = marked_as("ab123", "ab123", rocker_at=lambda x: question.right(drawn, [x])[0])
    assert "not for credit" in paper.mark("rocker_at").verdict.says
