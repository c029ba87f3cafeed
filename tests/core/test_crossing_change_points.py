"""Change points: crossed the way the motion goes on, and flagged; near ones are not crossed."""

import numpy as np
import pytest

import linkkit as lk
from tolerances import CLOSURE


def test_parallelogram_stays_one():
    motion = lk.move(lk.four_bar(0.2, 0.1, 0.2, 0.1), np.linspace(-7, 13, 4001))
    assert motion.point("B") - motion.point("A") == pytest.approx(0.2, abs=CLOSURE)
    assert np.round(motion.change_points / np.pi, 6).tolist() == [-2, -1, 0, 1, 2, 3, 4]


def test_antiparallelogram_stays_one():
    motion = lk.move(lk.four_bar(0.2, 0.1, 0.2, 0.1, "crossed"), np.linspace(0, 4 * np.pi, 1001))
    turn = motion.angle("rocker")[-1] - motion.angle("rocker")[0]
    assert abs(turn) == pytest.approx(4 * np.pi, abs=1e-9)
    assert np.sign(turn) == -1, "its side links turn opposite ways"


def test_kite_takes_two_turns_of_the_crank_for_one_of_the_rocker():
    motion = lk.move(lk.four_bar(0.1, 0.1, 0.2, 0.2), np.linspace(0.5, 0.5 + 4 * np.pi, 2001))
    turn = motion.angle("rocker")[-1] - motion.angle("rocker")[0]
    assert abs(turn) == pytest.approx(2 * np.pi, abs=1e-9)
    assert abs(np.diff(motion.angle("rocker"))).max() < 0.02


def test_isosceles_slider_crank_slides_by_twice_the_cosine():
    motion = lk.move(lk.slider_crank(0.1, 0.1), np.linspace(0, 6, 601))
    assert motion.point("B").real == pytest.approx(0.2 * np.cos(motion.input), abs=CLOSURE)


@pytest.mark.parametrize("spare", [1e-4, 1e-6])
def test_a_near_change_point_is_not_crossed(spare):
    motion = lk.move(lk.four_bar(0.2, 0.1, 0.2, 0.1 + spare), steps=3600)
    good = motion.ok
    a, b = motion.point("A")[good], motion.point("B")[good]
    side = ((b - a) * np.conj(0.2 - a)).imag
    assert len(motion.change_points) == 0
    assert np.all(side >= 0), "open stays open"


def test_positions_exactly_at_a_change_point():
    for angle in (0.0, np.pi, 2 * np.pi):
        motion = lk.move(lk.four_bar(0.2, 0.1, 0.2, 0.1), angle)
        assert motion.ok
        assert motion.point("B") - motion.point("A") == pytest.approx(0.2, abs=CLOSURE)
