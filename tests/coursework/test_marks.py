"""A whole paper: earlier slips carried, honest slips of the id, and one bad part that never stops the next."""

import numpy as np
import pytest

from linkkit.coursework import find_assignment
from linkkit.coursework.answers import Function
from linkkit.coursework.marks import mark_paper

PAPER = find_assignment("four-links")


def right_answers(student):
    """Every answer right, as plain values, and where the functions are called."""
    raws, inputs = {}, {}
    for q in PAPER.questions:
        drawn = PAPER.givens(q.setting, student)
        if isinstance(q.kind, Function):
            inputs[q.id] = q.inputs(student, "key")
            raws[q.id] = [float(v) for v in q.right(drawn, inputs[q.id])]
        else:
            right = q.right(drawn)
            raws[q.id] = dict(zip(q.kind.rows, right, strict=True)) if isinstance(right, tuple) else q.kind.show(right)
    return raws, inputs


def test_right_paper_earns_all_marks():
    raws, inputs = right_answers("ab123")
    verdicts = mark_paper(PAPER, "AB123 ", raws, inputs)
    assert list(verdicts) == [q.id for q in PAPER.questions]
    assert sum(v.marks for v in verdicts.values()) == PAPER.marks


def test_empty_paper_earns_none_and_says_so_everywhere():
    verdicts = mark_paper(PAPER, "ab123", {})
    assert {v.code for v in verdicts.values()} == {"blank"}
    assert sum(v.marks for v in verdicts.values()) == 0


def with_rocker_off_by(degrees, student="ab123"):
    """A rocker measured wrongly, and the transmission angle that follows from it by plain trigonometry."""
    drawn = PAPER.givens("net-shaker", student)
    rocker = PAPER.by_id["rocker_angle"].right(drawn) + np.radians(degrees)
    coupler = drawn.ground + drawn.rocker * np.exp(1j * rocker) - drawn.crank * np.exp(1j * drawn.crank_angle)
    between = np.degrees(np.arccos(abs((coupler * np.exp(-1j * rocker)).real) / abs(coupler)))
    return {"rocker_angle": f"{np.degrees(rocker):.3f} deg", "transmission_here": f"{between:.3f} deg"}


def test_earlier_slip_is_carried_for_two_thirds():
    verdicts = mark_paper(PAPER, "ab123", with_rocker_off_by(-7))
    assert verdicts["rocker_angle"].code == "wrong"
    assert (verdicts["transmission_here"].marks, verdicts["transmission_here"].code) == (2, "carried")
    assert "your own earlier answer" in verdicts["transmission_here"].says


def test_earlier_slip_that_makes_another_machine_is_not_carried():
    drawn = PAPER.givens("net-shaker", "ab123")
    rocker = PAPER.by_id["rocker_angle"].right(drawn) + np.radians(110)
    joint = drawn.ground + drawn.rocker * np.exp(1j * rocker)
    stretched = abs(joint - drawn.crank * np.exp(1j * drawn.crank_angle)) / drawn.coupler
    assert abs(stretched - 1) > 0.25, "the coupler would need another length by more than a quarter"
    assert mark_paper(PAPER, "ab123", with_rocker_off_by(110))["transmission_here"].code != "carried"


def test_right_part_after_a_wrong_one_keeps_all_its_marks():
    raws, inputs = right_answers("ab123")
    assert mark_paper(PAPER, "ab123", raws | {"rocker_angle": "1 deg"}, inputs)["transmission_here"].code == "right"


def test_paper_done_with_another_id_is_recognised_throughout():
    raws, inputs = right_answers("ab132")
    verdicts = mark_paper(PAPER, "ab123", raws, inputs, typed="ab132")
    assert {v.code for v in verdicts.values()} <= {"other-id", "right"}
    assert verdicts["swing"].code == "other-id"


HOSTILE = [
    "x" * 10**6, [["deep"]] * 3000, {"not readable": "Odd"}, {"not readable": 3}, float("nan"), float("inf"), True,
    {"a": {"b": {"c": None}}}, [None] * 12, [{"failed": 3}] * 12, [{"failed": ["list"]}] * 12, ["1", 2.0], [[], "mm"],
    "1e308 m", "9" * 400 + " mm", "-0 mm", "0x10 mm", "１２ mm", "\x00", "mm", [float("nan"), "mm"], [1e308] * 12,
]  # fmt: skip


@pytest.mark.parametrize("raw", HOSTILE, ids=lambda raw: repr(raw)[:30])
def test_no_plain_value_fools_or_stops_the_marker(raw):
    _, inputs = right_answers("ab123")
    for verdict in mark_paper(PAPER, "ab123", {q.id: raw for q in PAPER.questions}, inputs).values():
        assert verdict.marks == 0, verdict
        assert len(verdict.says) < 1000
