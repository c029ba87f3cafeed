"""Facts against triangles solved by hand, and the facts one would check of each machine of Marrow Quay."""

from dataclasses import replace

import numpy as np
import pytest

import linkkit as lk
from linkkit.workbook.findings import findings

SHARP = 1e-9


def corner(a, b, opposite):
    """The angle between sides a and b of a triangle (law of cosines)."""
    return np.arccos((a * a + b * b - opposite * opposite) / (2 * a * b))


CRANK_ROCKERS = [(0.4, 0.1, 0.35, 0.25), (0.41, 0.06, 0.446, 0.3), (1.0, 0.3, 0.9, 0.8)]


@pytest.mark.parametrize("lengths", CRANK_ROCKERS)
def test_crank_rocker(lengths):
    g, r, a, c = lengths
    known = lk.facts(lk.four_bar(*lengths))
    folded, stretched = corner(g, a - r, c), corner(g, a + r, c)
    assert known.grashof_class == "crank-rocker"
    assert np.sort(known.limits) == pytest.approx(np.sort([stretched, folded + np.pi]), abs=SHARP)
    assert known.swing == pytest.approx(abs(corner(g, c, a + r) - corner(g, c, a - r)), abs=SHARP)
    turn = abs(folded + np.pi - stretched)
    assert known.time_ratio == pytest.approx(max(turn, 2 * np.pi - turn) / min(turn, 2 * np.pi - turn), rel=SHARP)
    least, greatest = corner(a, c, g - r), corner(a, c, g + r)
    assert known.transmission_angle == pytest.approx((least, greatest), abs=SHARP)


@pytest.mark.parametrize(("r", "a", "e"), [(0.05, 0.2, 0.0), (0.05, 0.2, 0.02), (0.1, 0.25, -0.06)])
def test_slider_crank(r, a, e):
    known = lk.facts(lk.slider_crank(r, a, e))
    far, near = np.sqrt((a + r) ** 2 - e * e), np.sqrt((a - r) ** 2 - e * e)
    assert known.stroke == pytest.approx(far - near, abs=SHARP)
    assert np.sort(known.limits % (2 * np.pi)) == pytest.approx(
        np.sort([np.arcsin(e / (a + r)) % (2 * np.pi), (np.arcsin(e / (a - r)) + np.pi) % (2 * np.pi)]), abs=SHARP
    )
    lean = np.arcsin((np.array([-r, r]) + abs(e)) / a)
    worst = np.pi / 2 - abs(lean).max()
    assert min(known.transmission_angle[0], np.pi - known.transmission_angle[1]) == pytest.approx(worst, abs=SHARP)


def test_double_rocker_dead_centres():
    g, r, a, c = 0.3, 0.25, 0.1, 0.28
    known = lk.facts(lk.four_bar(g, r, a, c))
    ends = [corner(g, r, c - a), corner(g, r, c + a)]
    assert known.grashof_class == "double-rocker"
    assert np.sort(known.dead_centres) == pytest.approx(ends, abs=1e-7)


@pytest.mark.parametrize("lengths", [(0.27, 0.23, 0.28, 0.1), (0.31, 0.27, 0.27, 0.105), (0.19, 0.295, 0.3, 0.135)])
def test_ends_of_the_range_that_rounding_puts_out_of_reach(lengths):
    """With the crank fixed the input stops where AB and QB are in line: Q is seen from A in triangles with OA and OQ."""
    g, r, a, c = lengths
    known = lk.facts(lk.four_bar(*lengths).with_fixed("crank"))
    turned = corner(r, a + c, g) - corner(r, a - c, g)
    assert known.swing == pytest.approx(np.pi - abs(turned), abs=1e-7)


def test_classes_by_a_turned_crank():
    """Which link can go round is seen from whether every position assembles, not from the inequality."""
    draw = np.random.default_rng(3).uniform(0.1, 1.0, (200, 4))
    for lengths in draw[2 * draw.max(axis=1) < 0.999 * draw.sum(axis=1)]:
        bar = lk.four_bar(*lengths)
        crank, rocker = lk.move(bar).ok.all(), lk.move(lk.four_bar(*lengths[[0, 3, 2, 1]])).ok.all()
        found = lk.facts(bar).grashof_class
        expected = {(True, True): "double-crank", (True, False): "crank-rocker", (False, True): "rocker-crank"}
        assert found == expected.get((crank, rocker), found)
        assert (crank or rocker) == (found not in ("double-rocker", "triple-rocker"))


@pytest.mark.parametrize(
    ("lengths", "case"), [((4, 1, 4, 1), "parallelogram"), ((1, 1, 3, 3), "kite"), ((4, 1, 3, 2), "crank-rocker")]
)
def test_change_point_cases(lengths, case):
    known = lk.facts(lk.four_bar(*(x / 10 for x in lengths)))
    assert (known.grashof_class, known.change_point_case) == ("change point", case)


def test_the_lift_rocks_about_forty_degrees():
    beam = lk.move(lk.machine("brine-lift")).angle("beam")
    assert 37 < np.degrees(np.ptp(beam)) < 43  # common practice, no source: beam lifts swing about 40 degrees


def test_the_hoist_keeps_its_tray_level():
    motion = lk.move(lk.machine("crate-hoist"))
    assert abs(np.degrees(motion.angle("tray"))).max() < 1.5
    assert np.ptp(motion.point("T").imag) > 1.0
    assert [c.kind for c in lk.breakdown(motion.linkage)] == ["four-bar"] * 3
    assert lk.mobility(motion.linkage) == 2


def test_the_ram_tips_the_tray():
    motion = lk.move(lk.machine("crate-hoist"), drive="ram")
    assert np.degrees(np.ptp(motion.angle("tray"))) > 30
    boom = motion.point("E")
    assert abs(boom - boom[0]).max() < 1e-12


def test_what_moves_without_turning_has_no_swing():
    """The coupler of a parallelogram goes round a circle of the crank's radius; a slider has no angle to speak of."""
    level = replace(lk.four_bar(0.4, 0.1, 0.4, 0.1), output="coupler")
    known = lk.facts(level)
    assert (known.swing, known.stroke) == (0.0, pytest.approx(0.2, abs=SHARP))
    assert lk.motion_kinds(level)["coupler"] == "translation"
    assert ("swing of coupler", "0°") in findings(level).rows
    assert lk.facts(lk.machine("ice-chopper")).swing is None
    assert lk.facts(lk.machine("net-shaker")).stroke is None


def test_the_shaper_returns_quickly():
    half = np.arccos(150 / 360)  # crank over centre distance: the lever is square to the crank at its limits
    assert lk.facts(lk.machine("boatshed-shaper")).time_ratio == pytest.approx((np.pi - half) / half, rel=1e-6)


def test_the_rest_of_the_quay():
    classes = {n: lk.facts(lk.machine(n)).grashof_class for n in ("net-shaker", "lamp-turner", "hatch-closer")}
    assert classes == {"net-shaker": "crank-rocker", "lamp-turner": "double-crank", "hatch-closer": "double-rocker"}
    assert lk.facts(lk.machine("ice-chopper")).stroke == pytest.approx(0.2, abs=SHARP)
    press = lk.machine("fish-press")
    assert len(press.links) == 6
    pump = lk.motion_kinds(lk.machine("bilge-pump"))
    assert (pump["barrel"], pump["plunger"]) == ("fixed", "translation")


def test_the_guide_draws_its_eye_almost_straight():
    """Proportions 1 : 2 : 2.5 : 2.5 : 5; stroke four cranks, height 0.243843 % of it, over crank 90 to 270 degrees.

    Exact for the cognate of Chebyshev's linkage; recomputed independently (own figure of the reference list).
    """
    eye = lk.move(lk.machine("rope-guide"), np.linspace(np.pi / 2, 3 * np.pi / 2, 3601)).point("P")
    stroke = np.ptp(eye.real)
    assert stroke == pytest.approx(4 * 0.080, abs=1e-9)
    assert 100 * np.ptp(eye.imag) / stroke == pytest.approx(0.243843, abs=2e-5)
