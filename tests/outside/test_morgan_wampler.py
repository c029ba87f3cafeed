"""A. P. Morgan, C. W. Wampler, Solving a planar four-bar design problem using continuation, J. Mech. Des. 112 (1990)
544-550, problem 7: a four-bar on given pivots whose tracer passes five places of a line, and so five poses of a body.

The places, and one solution to twelve digits, are read in the manual of PHCpack, a solver of polynomial systems (J.
Verschelde, under "the design of a 4-bar mechanism"): the turns of the coupler from the first place, and where both
moving pins stand there, seen from the tracer. Any three of the five poses are an example of three-position guidance.
"""

from itertools import combinations

import numpy as np
import pytest

import linkkit as lk
from linkkit.design import Pose, four_bar_for_path, four_bar_for_poses, pin_for, pivot_for
from linkkit.design.four_bars import pinned_four_bar
from linkkit.design.functions import least_error, lengths_for
from linkkit.design.poses import pole
from tolerances import printed

PLACES = np.array([0.50 + 1.06j, -0.83 - 0.27j, -0.34 + 0.22j, -0.13 + 0.43j, 0.22 + 0.78j])
TURNS = [0.0, 1.44734213756, 0.928413708131, 0.751699211109, 0.387116282208]
PINS = ("-0.0877960434509", "-0.851386907516"), ("0.235837391307", "-1.41899202704")
CRANK_PIN, ROCKER_PIN = PIN = np.array([complex(float(x), float(y)) for x, y in PINS])
PIVOTS = np.array([0, 1 + 0j])
SIZES = (
    abs(PLACES[0] + CRANK_PIN),
    abs(CRANK_PIN - ROCKER_PIN),
    abs(PLACES[0] + ROCKER_PIN - 1),
)  # crank, coupler, rocker
POSES = [Pose(*pose) for pose in zip(PLACES, TURNS, strict=True)]
THREES, TWOS = (list(combinations(range(5), count)) for count in (3, 2))
ORDER = [1, 2, 3, 4, 0]  # along the line
WIDE = 100  # units of the last digit: between poses that are near together the print is off by so many


def as_printed(pins):
    """Both coordinates of both pins, beside the source's."""
    parts = [(z.real, z.imag) for z in pins]
    return [tuple(p) for p in parts] == [tuple(printed(text, units=WIDE) for text in pair) for pair in PINS]


@pytest.mark.parametrize("three", THREES)
def test_three_poses_and_the_pivots_give_the_printed_pins(three):
    assert as_printed(pin_for([POSES[n] for n in three], PIVOTS))


@pytest.mark.parametrize("three", THREES)
def test_three_poses_and_the_printed_pins_give_the_pivots(three):
    assert np.abs(pivot_for([POSES[n] for n in three], PIN) - PIVOTS).max() < 1e-9  # twelve digits, nearly in line


def test_the_four_bar_of_three_poses_passes_the_other_two():
    one = four_bar_for_poses([POSES[n] for n in (1, 3, 0)], pivots=PIVOTS).best
    assert one.good
    path = one.motion.point("P")
    assert max(np.abs(path - place).min() for place in PLACES) < np.abs(np.diff(path)).max()  # a step of the fine grid


@pytest.mark.parametrize("some", [*THREES, tuple(range(5))])
def test_pairs_of_angles_give_the_printed_lengths(some):
    """The same solution as a function: what crank and rocker point to in three of the places, or all, fixes the lengths."""
    pins = np.array([pose.place(PIN) for pose in POSES])[list(some)]
    theta, phi = np.angle(pins - PIVOTS).T
    closed = lengths_for(theta, phi)
    assert closed == pytest.approx(SIZES, rel=1e-8)  # twelve digits, of which places near together lose some
    assert least_error(theta, phi, closed) == pytest.approx(SIZES, rel=1e-8)


@pytest.mark.parametrize("two", TWOS)
def test_two_poses_leave_each_pivot_a_line(two):
    """The published pivots lie on the lines that two poses leave them, which run through the pole."""
    poses = [POSES[n] for n in two]
    for pin, pivot in zip(PIN, PIVOTS, strict=True):
        middle, along = pivot_for(poses, pin), pivot_for(poses, pin, along=1.0)
        for published in (pivot, pole(*poses)):
            assert abs(((published - middle) * np.conj(along - middle)).imag) < 1e-10  # twelve digits


def test_the_printed_design_passes_the_five_places():
    linkage = pinned_four_bar(0j, *(PLACES[0] + PIN), 1 + 0j, tracer=PLACES[0])
    cranks = np.angle([pose.place(CRANK_PIN) for pose in POSES])
    assert np.abs(lk.move(linkage, cranks).point("P") - PLACES).max() < 1e-10  # as good as its print
    assert (np.diff(cranks[ORDER]) > 0).all()


def test_the_search_finds_the_printed_design():
    one = four_bar_for_path(PLACES[ORDER], pivots=PIVOTS, tries=5000, keep=1, within=1e-9).best
    assert one.good
    assert [one.values[name] for name in ("crank", "coupler", "rocker")] == pytest.approx(SIZES, abs=1e-10)
