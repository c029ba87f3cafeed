"""Straight-line linkages against published proportions, and cognates against each other's curves."""

import numpy as np
import pytest

import linkkit as lk
from linkkit import LinkageError
from linkkit.design import cognates, straight_line_for, straightness
from linkkit.facts import four_bar_lengths

# R. L. Norton, Design of Machinery, table of Hoecken linkages of optimum straightness (from memory):
# range of the crank in degrees, ground in cranks, stroke in cranks, height in per cent of the stroke
HOECKEN = [
    (180, 2.200, 4.181, 0.096),
    (140, 2.500, 3.623, 0.023),
    (120, 2.625, 3.238, 0.010),
    (60, 2.900, 1.763, 0.00027),
]


@pytest.mark.parametrize(("turned", "ground", "stroke", "percent"), HOECKEN)
def test_hoecken_is_near_the_table_and_no_less_straight(turned, ground, stroke, percent):
    found = straight_line_for(1.0, crank_range=np.radians(turned)).best
    crank = found.values["crank"]
    assert found.values["ground"] / crank == pytest.approx(ground, rel=0.02)
    assert 1 / crank == pytest.approx(stroke, rel=0.02)
    path = lk.move(found.linkage, np.linspace(found.values["start"], found.values["end"], 2001)).point("P")
    assert 100 * straightness(path).ratio <= percent * 1.02


def test_chebyshev_has_its_own_proportions_and_height():
    # ground 4 : rockers 5 : coupler 2; largest departure .24384 per cent of the stroke (exact geometry, own evaluation)
    found = straight_line_for(0.32, kind="chebyshev").best
    sizes = np.array([found.values[n] for n in ("ground", "crank", "coupler", "rocker")])
    assert sizes / sizes[0] * 4 == pytest.approx([4, 5, 2, 5])
    path = lk.move(found.linkage, np.linspace(found.values["start"], found.values["end"], 4001)).point("P")
    assert straightness(path).ratio == pytest.approx(0.0024384, rel=1e-4)


@pytest.mark.parametrize("kind", ["hoecken", "chebyshev", "watt", "roberts"])
def test_the_stroke_is_as_asked(kind):
    found = straight_line_for(0.5, kind=kind).best
    path = lk.move(found.linkage, np.linspace(found.values["start"], found.values["end"], 1001)).point("P")
    assert straightness(path).stroke == pytest.approx(0.5, rel=1e-6)
    assert straightness(path).ratio < 0.01


def test_wrong_use_is_a_sentence():
    with pytest.raises(LinkageError, match="one of hoecken"):
        straight_line_for(0.3, kind="railway")
    with pytest.raises(LinkageError, match="row of places"):
        straightness([0, 1, 0])


def apart(path, curve):
    """How far the points of a path are from a closed curve, at most."""
    step = np.roll(curve, -1) - curve
    part = np.clip(((path[:, None] - curve) * np.conj(step)).real / np.abs(step) ** 2, 0, 1)
    return np.abs(path[:, None] - curve - part * step).min(axis=1).max()


def fine_curve(linkage, point="P"):
    """The whole curve that a point draws on the sketched circuit, and its mirror branch where the input turns back."""
    motion = lk.move(linkage, np.linspace(*lk.reach(linkage).here, 4000))
    return motion.point(point)[motion.ok]


@pytest.mark.parametrize("seed", range(6))
def test_cognates_draw_the_same_curve(seed):
    draw = np.random.default_rng(seed)
    bar = lk.four_bar(0.4, 0.12, *draw.uniform(0.3, 0.36, 2)).with_point("coupler", "P", *draw.uniform(-0.3, 0.3, 2))
    curve = lk.move(bar, steps=7200).point("P")
    first, *others = cognates(bar)
    assert first is bar
    for other in others:
        assert apart(fine_curve(other)[::20], curve) < 1e-6  # a chord of the fine curve
        assert min(abs(other.points["P"] - curve)) < 1e-3


@pytest.mark.parametrize("seed", range(4))
def test_the_third_pivot_is_shared_and_sides_are_parallel(seed):
    # S. Roberts 1875: the two new linkages share one new fixed pivot, and O A P C is a parallelogram
    draw = np.random.default_rng(10 + seed)
    bar = lk.four_bar(0.4, 0.12, *draw.uniform(0.3, 0.36, 2)).with_point("coupler", "P", *draw.uniform(-0.3, 0.3, 2))
    _, left, right = cognates(bar)
    assert abs(left.points["Q"] - right.points["Q"]) < 1e-12
    assert left.length("O", "A") == pytest.approx(bar.length("A", "P"))
    assert right.length("O", "A") == pytest.approx(bar.length("B", "P"))


def test_the_rope_guide_and_chebyshevs_linkage_are_cognates():
    guide = lk.four_bar(0.16, 0.08, 0.2, 0.2).with_point("coupler", "P", 0.4)
    assert four_bar_lengths(cognates(guide)[1]) == pytest.approx((0.32, 0.4, 0.16, 0.4))


def test_cognates_ask_for_a_point_of_the_coupler():
    bar = lk.four_bar(0.4, 0.1, 0.35, 0.25)
    with pytest.raises(LinkageError, match="coupler"):
        cognates(bar, "B")
    with pytest.raises(LinkageError, match="four-bar"):
        cognates(lk.slider_crank(0.1, 0.3), "B")
