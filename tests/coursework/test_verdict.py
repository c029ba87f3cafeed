"""Slips that any number can have, and verdicts that say what to do next."""

import pytest

from linkkit.coursework.answers import Number
from linkkit.coursework.givens import Givens
from linkkit.coursework.question import Question, Worked
from linkkit.coursework.tolerance import calculated
from linkkit.coursework.verdict import Verdict, judge

HINT = "Go through it again from the start."


def asked(unit, answer):
    """A question of four marks whose answer (SI) is known."""
    return Question(
        id="q", version=1, setting="s", title="t", marks=4, ask="?", kind=Number(unit, calculated(unit)),
        answer=lambda g: answer, by_hand=lambda g: Worked((), answer), model="", misconceptions=(), hint=HINT,
    )  # fmt: skip


SLIPS = [  # (unit, answer in SI, written, marks of 4, code)
    ("mm", 0.250, "250 mm", 4, "right"),
    ("mm", 0.250, "0.25 m", 4, "right"),
    ("mm", 0.250, "250", 2, "no-unit"),
    ("mm", 0.250, "-250 mm", 1, "sign"),
    ("mm", 0.250, "250 m", 1, "factor"),
    ("mm", 0.250, "250 cm", 1, "factor"),
    ("mm", 0.2345, "230 mm", 2, "rounded"),
    ("mm", 0.2345, "231 mm", 0, "wrong"),
    ("mm", 0.2345, "0.23 m", 2, "rounded"),
    ("mm", 0.250, "251 kg", 0, "other-quantity"),
    ("mm", 0.250, "300 mm", 0, "wrong"),
    ("deg", 1.0, "57.3 deg", 4, "right"),
    ("deg", 1.0, "1 deg", 2, "mixed-units"),
    ("deg", 1.0, "57.3 rad", 2, "mixed-units"),
    ("deg", 1.0, "57.3", 2, "no-unit"),
    ("deg", 1.0, "-57.3 deg", 1, "sign"),
    ("", 1.25, "1.25", 4, "right"),
    ("", 1.254, "1.3", 2, "rounded"),
    ("", 1.25, "12.5", 1, "factor"),
]


@pytest.mark.parametrize(("unit", "answer", "written", "marks", "code"), SLIPS)
def test_slips(unit, answer, written, marks, code):
    verdict = judge(asked(unit, answer), Givens({}), written)
    assert (verdict.marks, verdict.code) == (marks, code)


def test_wrong_in_no_known_way_gets_the_next_step():
    assert judge(asked("mm", 0.25), Givens({}), "400 mm").says == HINT


def test_default_is_not_marked_with_its_reason():
    verdict = Verdict.not_marked(4, "the sandbox is missing")
    assert verdict.marks is None
    assert verdict.says == "Not marked: the sandbox is missing"
