"""Paths: four-bars found again from their own curves, and the problems that the literature compares methods by."""

from pathlib import Path

import numpy as np
import pytest

import linkkit as lk
from linkkit import LinkageError
from linkkit.design import Grashof, Transmission, four_bar_for_path
from path_problems import LEAF, LEAF_BEST, NINE, PROBLEMS, UPRIGHT, UPRIGHT_RANGES, cranks, squares

PAGE = Path(__file__).parents[2] / "docs" / "design.md"


@pytest.fixture(scope="module")
def leaf():
    return four_bar_for_path(LEAF, timing=np.radians(20 * np.arange(18)), closed=True, tries=30_000, keep=2)


def test_the_leaf_of_eighteen_points(leaf):
    one = leaf.best
    assert squares(one, LEAF) == pytest.approx(LEAF_BEST, rel=1e-5)
    assert np.allclose(np.diff(cranks(one)), np.radians(20))
    assert lk.facts(one.linkage).grashof_class == "crank-rocker"
    assert one.motion.ok.all()


def test_what_is_missed_is_said(leaf):
    assert any("P misses place" in said for said in leaf.best.defects)


def test_the_upright_line_of_six_points():
    one = four_bar_for_path(UPRIGHT, ranges=UPRIGHT_RANGES, within=1e-6, tries=30_000, keep=1).best
    assert squares(one, UPRIGHT) < 1e-10  # the optimum is exactly 0
    assert one.good
    for name, (low, high) in UPRIGHT_RANGES.items():
        assert low <= one.values[name] <= high
    steps = np.diff(cranks(one))
    assert (steps > 0).all() or (steps < 0).all()
    assert abs(cranks(one)[-1] - cranks(one)[0]) < 2 * np.pi


def test_nine_points_are_met_exactly():
    # C. W. Wampler, A. P. Morgan, A. J. Sommese, J. Mech. Des. 114 (1992), problem 3: nine points are the most that a
    # four-bar's tracer can be asked to pass exactly; 64 of the 8652 solutions are real there, and this one turns fully
    one = four_bar_for_path(NINE, closed=True, tries=50_000, keep=1).best
    assert squares(one, NINE) < 1e-24
    assert one.good
    assert one.motion.ok.all()
    steps = np.diff(cranks(one))
    assert (steps > 0).all() or (steps < 0).all()


@pytest.mark.parametrize("seed", range(4))
def test_a_four_bar_is_found_again_from_its_timed_path(seed):
    draw = np.random.default_rng(seed)
    bar = lk.four_bar(0.4, 0.12, *draw.uniform(0.3, 0.36, 2)).with_point("coupler", "P", *draw.uniform(-0.3, 0.3, 2))
    angles = np.radians(np.arange(0, 360, 30))
    places = 0.3 - 0.2j + np.exp(0.7j) * lk.move(bar, angles).point("P")
    found = four_bar_for_path(places, timing=angles, closed=True, tries=4000, keep=1)
    assert squares(found.best, places) < 1e-16
    assert found.best.good


def test_limits_are_kept():
    arc = np.array([0, 0.15 + 0.03j, 0.3])  # three places: without the limits the best would transmit below 20 degrees
    limits = [Transmission(np.radians(45)), Grashof("crank-rocker")]
    one = four_bar_for_path(arc, limits=limits, tries=3000, keep=1).best
    assert one.good
    assert one.motion.linkage is one.linkage
    low, high = one.figures["transmission angle"].removesuffix(" deg").split(" to ")
    assert (float(low), float(high)) >= (45, 45)
    assert float(high) <= 135


def test_seeds_and_stops():
    arc = np.array([0, 0.1 + 0.02j, 0.2 + 0.02j, 0.3])
    one, two = (four_bar_for_path(arc, tries=1000, keep=1, seed=5) for _ in range(2))
    assert [d.values for d in one] == [d.values for d in two]
    told = []
    found = four_bar_for_path(arc, tries=10**9, keep=1, progress=told.append, stop=lambda: len(told) == 3)
    assert found.stopped
    assert 0 < found.tried < 10**9
    assert len(found) == 1


@pytest.mark.parametrize("problem", PROBLEMS, ids=lambda problem: problem.name)
def test_the_page_tells_of_every_problem(problem):
    """Its table is printed by `python tests/path_problems.py`: the same problems, bounds, candidates and comparisons."""
    told = [f" {problem.name} ", f" {problem.bounds} ", f" {problem.tries:,} ", f" {problem.best} "]
    rows = [line.split("|") for line in PAGE.read_text(encoding="utf-8").splitlines()]
    assert any(row[1:4] + row[5:6] == told for row in rows)


def test_a_range_that_is_not_kept_is_said():
    arc = np.array([0, 0.1 + 0.02j, 0.2 + 0.02j, 0.3])
    one = four_bar_for_path(arc, ranges={"x": 5.0}, tries=500, keep=1, stop=lambda: True).best
    assert [said.split(" is ")[0] for said in one.defects if "5 to 5 m is allowed" in said] == ["x"]


@pytest.mark.parametrize(
    ("given", "says"),
    [
        ({"places": [0, 1]}, "at least three places"),
        ({"places": [1, 1, 1]}, "apart"),
        ({"places": "abc"}, "at least three places"),
        ({"places": [0, 1, np.nan]}, "at least three places"),
        ({"timing": [0, 1]}, "one crank angle for each"),
        ({"timing": [0, 1, 0.5]}, "turns one way"),
        ({"ranges": {"width": (0, 1)}}, "a range is for one of"),
        ({"ranges": {"x": (1, 0)}}, "the lower one first"),
        ({"pivots": (1, 1)}, "two different places"),
        ({"pivots": 1}, "two different places"),
        ({"pivots": ("a", "b")}, "places x"),
    ],
)
def test_wrong_use_is_a_sentence(given, says):
    with pytest.raises(LinkageError, match=says):
        four_bar_for_path(**({"places": [0, 1, 1 + 1j]} | given), tries=10)
