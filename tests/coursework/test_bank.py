"""The first paper: names of its questions, and a later part that follows from an earlier one.

Answer, method by hand, model and misconceptions of every question are held together in test_papers.py.
"""

import numpy as np
import pytest

from linkkit.coursework import find_assignment
from tolerances import CLOSURE

PAPER = find_assignment("four-links")


def test_question_ids_are_names_and_unique():
    names = [question.id for question in PAPER.questions]
    assert len(set(names)) == len(names) >= 8
    assert all(name.isidentifier() for name in names)


def test_later_part_follows_the_students_own_earlier_answer():
    question = PAPER.by_id["transmission_here"]
    drawn = PAPER.givens("net-shaker", "ab123")
    rocker = PAPER.by_id["rocker_angle"].right(drawn)
    assert question.right(drawn, earlier={"rocker_angle": rocker}) == pytest.approx(question.right(drawn), abs=CLOSURE)
    off = rocker + 0.2
    joint = drawn.ground + drawn.rocker * np.exp(1j * off)
    coupler = joint - drawn.crank * np.exp(1j * drawn.crank_angle)
    between = np.arccos(abs((coupler * np.exp(-1j * off)).real) / abs(coupler))
    assert question.right(drawn, earlier={"rocker_angle": off}) == pytest.approx(between, abs=CLOSURE)
