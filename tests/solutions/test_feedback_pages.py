"""Feedback as a page: the marking's own verdicts, what to do next, and nothing that is right before the time is over."""

import base64
import math
import re
from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from linkkit.coursework import bank, find_assignment
from linkkit.coursework.marks import mark_paper
from linkkit.coursework.question import Assignment
from linkkit.coursework.verdict import judge
from linkkit.marking.late import LateRules
from linkkit.solutions.feedback import Script, answers_shown, feedback_page
from linkkit.solutions.machine import Machine
from linkkit.solutions.own_picture import PLACES, POSED, POSES, RIGHT, drawn
from linkkit.solutions.worked import spoken

NOON = datetime(2031, 3, 7, 12, tzinfo=UTC)
PNG = base64.b64encode(b"\x89PNG\r\n\x1a\nrest of a picture").decode()
RULES = {"runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]}


def wrong_script(paper, student, **more):
    """Every number off by a seventh or a tenth of a radian, as the marker judges it."""
    raws = {}
    for question in paper.questions:
        right = question.right(paper.givens(question.setting, student)) if hasattr(question.kind, "asked") else None
        if right is not None:
            off = right + 0.1 if question.kind.unit == "deg" else right * 8 / 7
            raws[question.id] = question.kind.typed(off)
    return Script(verdicts=mark_paper(paper, student, raws, {}), **more)


@pytest.mark.parametrize("name", ["four-links", "mixed-paper", "forces"])
def test_no_right_answer_stands_on_the_page_before_the_deadline(name):
    paper = find_assignment(name)
    page = feedback_page(paper, "ab123", wrong_script(paper, "ab123"))
    for question in paper.questions:
        if hasattr(question.kind, "asked") and question.kind.unit:
            right = spoken(question.kind, question.right(paper.givens(question.setting, "ab123")))
            assert f" {right}" not in page
            assert f"Your answer was read as: {right}" not in page
    assert "<svg" not in page
    assert "Right for your numbers" not in page
    assert "What to do next" in page


def test_after_the_deadline_the_answer_its_steps_and_both_pictures_are_there():
    paper = find_assignment("four-links")
    page = feedback_page(paper, "ab123", wrong_script(paper, "ab123"), answers=True)
    givens = paper.givens("net-shaker", "ab123")
    question = paper.by_id["rocker_angle"]
    assert f"Right for your numbers: {spoken(question.kind, question.right(givens))}" in page
    assert question.by_hand(givens).steps[0] in page
    assert page.count("laid over the right one") == 2  # the rocker and the slider are drawn
    chord = 2000 * givens.rocker * math.sin(0.05)  # of the tenth of a radian that the answer is off, mm
    found = re.search(r"Your B is ([\d.]+) mm from where it should be", page)
    assert float(found[1]) == pytest.approx(chord, rel=0.02)  # the answer was written with four figures


@pytest.mark.parametrize("name", [*PLACES, *POSES])
def test_a_wrong_number_is_drawn_beside_the_right_one(name):
    """The cross is as far from its point as the answer is off: an arc's chord, or the difference itself."""
    question = bank.questions()[name]
    paper = Assignment("x", "", "", (bank.settings()[question.setting],), (question,))
    givens, off = paper.givens(question.setting, "ab123"), 0.02
    answer = question.kind.typed(question.right(givens) + off)
    shown = drawn(question, paper, "ab123", judge(question, givens, answer))
    if name in POSES:
        assert [picture.words for picture in shown] == [POSED, RIGHT]
        assert shown[0].svg != shown[1].svg
        return
    found = re.search(r"Your (\w+) is ([\d.]+) mm from where it should be", shown[0].svg)
    if question.kind.unit == "deg":
        at = Machine.of(paper.settings[0], givens, ()).motion.point
        pin = {"coupler_angle": "A", "rod_angle": "A"}.get(name, "Q")
        off = 2 * abs(at(found[1]) - at(pin)) * math.sin(off / 2)
    assert float(found[2]) == pytest.approx(1000 * off, rel=0.1)  # a drawn answer is typed to a tenth of a degree


def test_a_right_answer_is_not_lectured_on():
    paper = find_assignment("forces")
    question = paper.by_id["rod_force"]
    typed = question.kind.typed(question.right(paper.givens(question.setting, "ab123")))
    page = feedback_page(paper, "ab123", Script(verdicts=mark_paper(paper, "ab123", {"rod_force": typed}, {})))
    section = page[page.index("The force in the rod") :].partition("</section>")[0]
    assert "2 of 2" in section
    assert "What to do next" not in section


def test_a_drawing_stands_beside_the_right_one_and_marks_by_hand_count():
    paper = find_assignment("mixed-paper")
    script = wrong_script(paper, "ab123", by_hand={"shaker_diagram": 3.0},
                          drawings={"shaker_diagram": [("image/png", PNG, "my<drawing>.png")]})  # fmt: skip
    before, after = feedback_page(paper, "ab123", script), feedback_page(paper, "ab123", script, answers=True)
    assert "Marked by your tutor" in before
    assert PNG not in before
    assert f'<img src="data:image/png;base64,{PNG}" alt="Yours: my&lt;drawing&gt;.png">' in after


def test_what_a_student_wrote_is_escaped():
    paper = find_assignment("forces")
    verdicts = {q: replace(v, read="<script>x</script>") for q, v in wrong_script(paper, "ab123").verdicts.items()}
    page = feedback_page(paper, "<b>", Script(verdicts, said=("<i>",), fault=""))
    assert "<script" not in page
    assert "<b>" not in page
    assert "<i>" not in page


@pytest.mark.parametrize(
    ("table", "setting", "after", "shown"),
    [
        ({}, "after-deadline", 1e6, False),  # no due time: never
        ({"due": NOON}, "after-deadline", -1, False),
        ({"due": NOON}, "after-deadline", 1, True),
        ({"due": NOON, "grace_minutes": 15}, "after-deadline", 14, False),
        ({"due": NOON, "grace_minutes": 15}, "after-deadline", 16, True),
        ({"due": NOON, "extensions": {"x": NOON + timedelta(days=2)}}, "after-deadline", 2000, False),
        ({"due": NOON, "extensions": {"x": NOON + timedelta(days=2)}}, "after-deadline", 3000, True),
        ({"due": NOON}, "never", 1e6, False),
        ({}, "now", -1, True),
    ],
)
def test_nobody_sees_what_is_right_while_somebody_may_hand_in(table, setting, after, shown):
    now = NOON + timedelta(minutes=after)
    assert answers_shown(LateRules({"four-links": table}), "four-links", setting, now) is shown


@pytest.mark.needs_chromium
def test_axe_finds_nothing_on_a_page_with_pictures(browser, tmp_path):
    from axe_playwright_python.sync_playwright import Axe

    paper = find_assignment("four-links")
    (tmp_path / "page.html").write_text(feedback_page(paper, "ab123", wrong_script(paper, "ab123"), answers=True))
    page = browser.new_page()
    page.goto((tmp_path / "page.html").as_uri())
    found = Axe().run(page, options=RULES)
    page.close()
    assert found.violations_count == 0, found.generate_report()
