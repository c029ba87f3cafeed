"""Cranks that drive to and fro: published examples and closed forms, and that nothing better is to be had."""

import numpy as np
import pytest

import linkkit as lk
from linkkit import LinkageError
from linkkit.design import crank_rocker_for, quick_return_for, slider_crank_for
from linkkit.design.turning_back import imbalance
from tolerances import printed


@pytest.mark.parametrize(("ratio", "expected"), [(1.1, "8.571"), (1.2, "16.36"), (1.25, "20.0")])
def test_the_imbalance_angle(ratio, expected):
    # Uicker, Pennock, Shigley, Theory of Machines and Mechanisms: 180 (Q - 1)/(Q + 1)
    assert np.degrees(imbalance(ratio)) == printed(expected)


def test_a_shaper_from_the_textbook():
    # R. S. Khurmi, J. K. Gupta, Theory of Machines, 14th ed., example 5.3: crank 30 mm, stroke 120 mm, ratio 1.7
    found = quick_return_for(0.120, 1.7, crank=0.030).best
    assert 1000 * found.values["centre distance"] == printed("75.7")
    assert 1000 * found.values["lever"] == pytest.approx(151.48, abs=0.01)
    assert found.good


@pytest.mark.parametrize(("stroke", "ratio", "crank"), [(0.12, 1.7, 0.03), (0.45, 2.0, 0.12), (0.3, 1.2, 0.1)])
def test_a_quick_return_does_what_was_asked(stroke, ratio, crank):
    known = lk.facts(quick_return_for(stroke, ratio, crank=crank).best.linkage)
    assert (known.stroke, known.time_ratio) == (pytest.approx(stroke, rel=1e-9), pytest.approx(ratio, rel=1e-9))


SWINGS = [(40, 1.25), (150, 3.5), (60, 1.0), (60, 1.1), (25, 1.5), (90, 1.2), (100, 1.05)]


@pytest.mark.parametrize(("swing", "ratio"), SWINGS)
def test_a_crank_rocker_does_what_was_asked(swing, ratio):
    found = crank_rocker_for(np.radians(swing), ratio, rocker=0.3).best
    known = lk.facts(found.linkage)
    assert np.degrees(known.swing) == pytest.approx(swing, rel=1e-8)
    assert known.time_ratio == pytest.approx(ratio, rel=1e-6)
    assert known.grashof_class == "crank-rocker"
    assert found.linkage.length("Q", "B") == pytest.approx(0.3)


@pytest.mark.parametrize(("swing", "longest"), [(40, 4.0), (60, 3.0), (80, 5.0)])
def test_equal_strokes_agree_with_the_published_closed_form(swing, longest):
    # R. J. Brodell, A. H. Soni, Design of the crank-rocker mechanism with unit time ratio, J. Mechanisms 5 (1970) 1-4:
    # with the ground 1 and least transmission angle g, (r3)^2 = (1 - cos swing)/(2 cos^2 g),
    # (r4)^2 = (1 - r3^2)/(1 - r3^2 cos^2 g), (r2)^2 = r3^2 + r4^2 - 1
    linkage = crank_rocker_for(np.radians(swing), 1.0, longest=longest).best.linkage
    ground, crank, coupler, rocker = (linkage.length(*ends) for ends in ("OQ", "OA", "AB", "QB"))
    low, high = lk.facts(linkage).transmission_angle
    cosine = np.cos(min(low, np.pi - high))
    r3 = np.sqrt((1 - np.cos(np.radians(swing))) / 2) / cosine
    r4 = np.sqrt((1 - r3**2) / (1 - (r3 * cosine) ** 2))
    r2 = np.sqrt(r3**2 + r4**2 - 1)
    assert [coupler / ground, rocker / ground, crank / ground] == pytest.approx([r3, r4, r2], rel=1e-6)


@pytest.mark.parametrize(("swing", "ratio"), [(40, 1.25), (60, 1.1)])
def test_no_other_crank_rocker_transmits_better(swing, ratio):
    # second route: all crank-rockers of a wide draw, their swing and ratio by the law of cosines in both extremes
    low, high = lk.facts(crank_rocker_for(np.radians(swing), ratio).best.linkage).transmission_angle
    limit = min(low, np.pi - high)
    others = _drawn(np.radians(swing), ratio)
    assert len(others) > 15
    assert max(others) < limit + np.radians(0.3)
    assert max(others) > limit - np.radians(2)


def _drawn(swing, ratio):
    """The least transmission angles of crank-rockers drawn at random that have nearly this swing and ratio; rocker 1."""
    g, r, a = np.random.default_rng(0).uniform([[0.05]] * 3, [[4.0], [1.0], [4.0]], (3, 3_000_000))
    sizes = np.stack([g, r, a, np.ones_like(g)])
    turns = (r == sizes.min(axis=0)) & (2 * (r + sizes.max(axis=0)) < sizes.sum(axis=0))
    g, r, a = g[turns], r[turns], a[turns]
    at_rocker = [np.arccos((g**2 + 1 - x**2) / (2 * g)) for x in (a + r, a - r)]
    at_crank = [np.arccos((g**2 + x**2 - 1) / (2 * g * x)) for x in (a + r, a - r)]
    seen = np.abs(at_crank[0] - at_crank[1])
    ratios = (np.pi + seen) / (np.pi - seen)
    near = (np.abs(at_rocker[0] - at_rocker[1] - swing) < 0.004) & (np.abs(ratios - ratio) < 0.005)
    ends = [np.abs((a**2 + 1 - (g + s * r) ** 2) / (2 * a))[near] for s in (1, -1)]
    return np.arccos(np.maximum(*ends))


@pytest.mark.parametrize(("ratio", "rod"), [(1.2, None), (1.0, 0.25), (1.2, 0.2), (1.5, None)])
def test_a_slider_crank_does_what_was_asked(ratio, rod):
    found = slider_crank_for(0.12, ratio, rod=rod).best
    known = lk.facts(found.linkage)
    assert (known.stroke, known.time_ratio) == (pytest.approx(0.12, rel=1e-9), pytest.approx(ratio, rel=1e-6))
    assert rod is None or found.linkage.length("A", "B") == pytest.approx(rod)
    assert found.good


@pytest.mark.parametrize("ratio", [1.1, 1.2, 1.5])
def test_no_other_slider_crank_transmits_better(ratio):
    # second route: cranks and offsets drawn at random in rods, their ratio by the right triangles of both extremes
    low, high = lk.facts(slider_crank_for(0.12, ratio).best.linkage).transmission_angle
    crank, offset = np.random.default_rng(0).random((2, 300_000))
    turns = crank + offset < 1
    crank, offset = crank[turns], offset[turns]
    seen = np.arcsin(offset / (1 - crank)) - np.arcsin(offset / (1 + crank))
    near = np.abs((np.pi + seen) / (np.pi - seen) - ratio) < 0.002
    others = np.arccos(crank + offset)[near]
    assert near.sum() > 200
    assert min(low, np.pi - high) + np.radians(0.3) > others.max() > min(low, np.pi - high) - np.radians(1)


def test_no_other_rod_transmits_better():
    best = slider_crank_for(0.12, 1.2).best
    rods = best.values["rod"] * np.array([0.85, 0.95, 0.99, 1.01, 1.05, 1.2])
    others = []
    for rod in rods:
        try:
            one = slider_crank_for(0.12, 1.2, rod=float(rod)).best
        except LinkageError:
            continue
        low, high = lk.facts(one.linkage).transmission_angle
        others.append(min(low, np.pi - high))
    low, high = lk.facts(best.linkage).transmission_angle
    assert len(others) > 2
    assert max(others) <= min(low, np.pi - high) + 1e-9


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: crank_rocker_for(np.radians(40), 0.9), "at least 1"),
        (lambda: crank_rocker_for(4.0, 1.2), "below half a turn"),
        (lambda: crank_rocker_for(np.radians(60), 1.0, longest=0.9), "no crank-rocker swings"),
        (lambda: crank_rocker_for("40", 1.2), "radians"),
        (lambda: slider_crank_for(0.12), "say how long"),
        (lambda: slider_crank_for(0.12, rod=0.05), "too short"),
        (lambda: slider_crank_for(0.12, 1.5, rod=5.0), "no slider-crank"),
        (
            lambda: slider_crank_for(0.1454, 2.0, rod=0.1318),
            "no slider-crank",
        ),  # its extremes are on both sides of the crank
        (lambda: slider_crank_for(-1, 1.5), "more than zero"),
        (lambda: quick_return_for(0.12, 1.0, crank=0.03), "above 1"),
    ],
)
def test_wrong_use_is_a_sentence(call, says):
    with pytest.raises(LinkageError, match=says):
        call()
