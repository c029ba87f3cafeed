"""Answers in rows, lists of chains, and what a tutor marks: partial credit, and every row read by itself."""

import numpy as np
import pytest

from linkkit.coursework import find_assignment
from linkkit.coursework.listed import ChainList, Positions
from linkkit.coursework.marks import mark_paper
from linkkit.coursework.tolerance import calculated
from linkkit.coursework.verdict import judge
from linkkit.coursework.written import tutor_page

ROWS = ("0 deg", "90 deg", "180 deg", "270 deg")
TABLE = Positions(ROWS, "mm", calculated("mm"))
FOUR = ("four-bar", "1", "2", "3", "4")
CHAINS = ChainList(tuple("123456"))


def test_each_row_is_read_by_itself():
    reading = TABLE.read({"0 deg": "10 cm", "90 deg": 87.5, "180 deg": "about 40", "270 deg": None})
    assert reading.value[:2] == pytest.approx([0.1, 0.0875])
    assert np.isnan(reading.value[2:]).all()
    assert "180 deg: No number can be read" in reading.says


@pytest.mark.parametrize("raw", [None, {}, dict.fromkeys(ROWS), "10 mm", 3.0, [1.0, 2.0], {"not readable": "Odd"}])
def test_what_is_no_table_is_said(raw):
    reading = TABLE.read(raw)
    assert not reading.usable
    assert reading.says


def test_twelve_positions_earn_a_share_a_row():
    paper = find_assignment("crank-and-slider")
    question, drawn = paper.by_id["twelve_positions"], paper.givens("ice-chopper", "ab123")
    typed = question.kind.typed(question.right(drawn))
    spoilt = typed | {"30 deg": "1 mm", "60 deg": None, "90 deg": "left"}
    assert judge(question, drawn, typed).marks == 6
    verdict = judge(question, drawn, spoilt)
    assert (verdict.marks, verdict.code) == (6 * 9 / 12, "some-rows")
    assert "9 of 12 rows are right" in verdict.says


def test_chains_earn_a_share_a_word_and_one_too_many_costs():
    second = ("slider-crank", "1", "4", "5", "6")
    assert CHAINS.parts((FOUR,), (FOUR, second)) == (5, 10)
    assert CHAINS.parts((FOUR, second, second), (FOUR, second)) == (10, 15)
    assert CHAINS.parts((FOUR, (*second[:4], "3")), (FOUR, second)) == (9, 10)


def test_chains_are_read_loosely_and_faults_are_named():
    reading = CHAINS.read([{"Kind": "Four bar", "fixed": "1", "input": "2", "coupler": "9", "output": "4"}])
    assert reading.value == (("four-bar", "1", "2", None, "4"),)
    assert "Chain 1, coupler: “9” is none of the options" in reading.says


@pytest.mark.parametrize("raw", [None, [], [{"kind": ""}], "four-bar", [["four-bar"]], 7.0, [None]])
def test_what_is_no_list_of_chains_is_said(raw):
    reading = CHAINS.read(raw)
    assert not reading.usable
    assert reading.says


def test_hand_marked_questions_wait_for_a_tutor_and_stop_nothing():
    paper = find_assignment("chains-in-series")
    verdict = mark_paper(paper, "ab123", {"why_in_series": "because"})["why_in_series"]
    assert (verdict.marks, verdict.code) == (None, "by-hand")
    assert paper.marks - paper.marks_by_machine == 3


def test_tutor_sees_the_students_own_right_picture():
    paper = find_assignment("mixed-paper")
    one, other = (tutor_page(paper, student) for student in ("ab123", "cd456"))
    assert "<svg" in one
    assert one.split("<svg")[1] != other.split("<svg")[1]
