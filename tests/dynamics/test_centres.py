"""Instant centres against their definition, the theorem of three centres and rolling."""

from itertools import combinations

import numpy as np
import pytest
from machines import ALL, moving

import linkkit as lk
from tolerances import CLOSURE, DIFFERENCE

each_machine = pytest.mark.parametrize("name", ALL)
SLIDING = ("scotch_yoke", "trammel", "third_crank")  # of any three centres one is at infinity, or all are seen
LOOSE = 1e5 * CLOSURE  # a centre lies as far away as its lines are nearly parallel


@each_machine
def test_two_links_have_one_velocity_there(name):
    """All n (n - 1) / 2: the definition; at infinity the two links do not turn on each other, but slide across it."""
    motion = moving(ALL[name])
    centres = lk.instant_centres(motion)
    pairs = list(combinations(centres.links, 2))
    n = len(ALL[name].links)
    assert len(centres.seen) + len(centres.found) + len(centres.rest) == len(pairs) == n * (n - 1) / 2
    for a, b in pairs:
        far, at = centres.at_infinity(a, b), centres.between(a, b)
        slip = motion.velocity_at(b, np.where(far, 0, at)) - motion.velocity_at(a, np.where(far, 0, at))
        pace = 1 + abs(motion.velocity_at(a, np.where(far, 0, at)))
        assert np.max(abs(slip / pace)[~far & np.isfinite(at)], initial=0) < LOOSE
        if far.any():
            along = (np.conj(centres.direction(a, b)) * slip).real
            assert np.max(abs(along[far])) < LOOSE * np.max(pace)


@pytest.mark.parametrize("name", [n for n in ALL if n not in SLIDING])
def test_three_centres_lie_on_one_line(name):
    """The theorem itself, for every three links whose centres are all near."""
    motion = moving(ALL[name])
    centres, size = lk.instant_centres(motion), max(abs(z) for z in ALL[name].points.values())
    tried = 0
    for three in combinations(centres.links, 3):
        p, q, r = (centres.between(*pair) for pair in combinations(three, 2))
        near = (abs(p) < 10 * size) & (abs(q) < 10 * size) & (abs(r) < 10 * size)
        area = (np.conj(q - p) * (r - p)).imag
        assert np.max(abs(area[near]), initial=0) < LOOSE * size**2
        tried += near.sum()
    assert tried > 0


def test_the_order_for_a_four_bar():
    """Four pins are seen; each of the other two lies on two lines through them."""
    centres = lk.instant_centres(lk.move(lk.four_bar(0.4, 0.1, 0.35, 0.25), [1.0]))
    assert set(centres.seen) == {("ground", "crank"), ("ground", "rocker"), ("crank", "coupler"), ("coupler", "rocker")}
    assert [step.pair for step in centres.found] == [("ground", "coupler"), ("crank", "rocker")]
    lines = [{frozenset(pair) for pair in line} for line in centres.found[0].lines]
    assert {frozenset(("ground", "crank")), frozenset(("crank", "coupler"))} in lines
    assert {frozenset(("ground", "rocker")), frozenset(("rocker", "coupler"))} in lines
    assert centres.rest == ()
    assert "meets" in centres.found[0].text


@each_machine
def test_each_construction_uses_what_is_found(name):
    """In order, each centre lies on two lines through centres that are seen or found before; and it truly lies there."""
    motion = moving(ALL[name])
    centres = lk.instant_centres(motion)
    known = {frozenset(pair) for pair in centres.seen}
    size = max(abs(z) for z in ALL[name].points.values())
    for step in centres.found:
        for line in step.lines:
            assert {frozenset(pair) for pair in line} <= known
            ends = [centres.between(*pair) for pair in line]
            spot = centres.between(*step.pair)
            near = np.all([abs(z) < 10 * size for z in (*ends, spot)], axis=0)
            area = (np.conj(ends[1] - ends[0]) * (spot - ends[0])).imag
            assert np.max(abs(area[near]), initial=0) < LOOSE * size**2
        known.add(frozenset(step.pair))


def test_parallelogram_and_slide_have_centres_at_infinity():
    """The coupler of a parallelogram moves along a circle without turning; a slider slides on its guide."""
    centres = lk.instant_centres(lk.move(lk.four_bar(0.4, 0.1, 0.4, 0.1), [0.5, 1.0]))
    assert centres.at_infinity("ground", "coupler").all()
    assert np.isnan(centres.between("ground", "coupler")).all()
    turned = centres.direction("ground", "coupler") / np.exp(1j * np.array([0.5, 1.0]))
    assert abs(turned.real) == pytest.approx(1)
    engine = lk.instant_centres(lk.move(lk.slider_crank(0.1, 0.4), [0.5]))
    assert engine.at_infinity("ground", "slider").all()
    assert abs(engine.direction("ground", "slider").imag) == pytest.approx(1)


def test_centrodes_roll_on_each_other():
    """The centre moves as far along the one as along the other: rolling without slip, step by step."""
    motion = lk.move(lk.four_bar(0.4, 0.1, 0.35, 0.25), np.linspace(0.5, 0.9, 4001))
    fixed, moved = lk.instant_centres(motion).centrodes("ground", "coupler")
    one, two = (np.cumsum(abs(np.diff(path))) for path in (fixed, moved))
    assert one[-1] == pytest.approx(two[-1], rel=DIFFERENCE)
    assert one[-1] > 0.01
