"""Change points on turned frames, hit exactly, in later chains, with slides, in long and falling sweeps, and near ones."""

from dataclasses import replace

import numpy as np
import pytest

import linkkit as lk
from linkkit.reach import reach
from strategies import quick_return
from tolerances import CLOSURE, DIFFERENCE

FRAMES = [*np.linspace(-3.1, 3.1, 13), -0.3, -0.3 + np.pi, np.pi]  # some lie on the ends of any grid over a turn
SHARP = 1e-9


def turned(linkage, angle):
    """The linkage with its whole sketch turned about the origin."""
    by = np.exp(1j * angle)
    slides = [replace(s, through=complex(s.through * by), direction=complex(s.direction * by)) for s in linkage.slides]
    return replace(linkage, points={p: complex(z * by) for p, z in linkage.points.items()}, slides=tuple(slides))


@pytest.mark.parametrize("frame", FRAMES)
def test_a_turned_parallelogram(frame):
    """The coupler never turns and the rocker turns with the crank, before, on and after every change point."""
    bar, along = turned(lk.four_bar(0.4, 0.1, 0.4, 0.1), frame), 0.4 * np.exp(1j * frame)
    rng = np.random.default_rng(1)
    hits = frame + np.pi * np.arange(-4, 5)
    for values in (hits, hits + 1e-7 * rng.normal(size=9), frame - np.linspace(0, 20, 9000), hits[::-1], hits[3]):
        motion = lk.move(bar, values, speed=1.0)
        assert motion.ok.all()
        assert np.max(abs(motion.point("B") - motion.point("A") - along)) < 10 * CLOSURE
        assert np.max(motion.residual) < CLOSURE
        assert np.max(abs(motion.angular_velocity("rocker") - 1)) < DIFFERENCE
        assert np.max(abs(motion.angular_acceleration("rocker"))) < 2 * DIFFERENCE
        expected = hits[(hits > np.min(values) - 1e-6) & (hits < np.max(values) + 1e-6)]
        between = motion.change_points[:, None] - (frame + np.pi * np.arange(-12, 13))
        assert np.max(np.min(abs(between), axis=1)) < SHARP
        assert len(motion.change_points) >= len(expected)


def test_isosceles_quick_return_turns_its_lever_half_as_fast():
    """Crank as long as the distance of the pivots: the lever lies along the angle at the centre's half (Thales)."""
    motion = lk.move(quick_return(0.1, 0.1), np.linspace(-2, 25, 2001), speed=1.0)
    assert motion.angular_velocity("lever") == pytest.approx(0.5, abs=DIFFERENCE)
    assert np.ptp(motion.angle("lever")) == pytest.approx(13.5, abs=SHARP)
    assert np.round(motion.change_points / (2 * np.pi), 9).tolist() == [0, 1, 2, 3]


def test_isosceles_slider_crank_pushed_by_its_slider():
    """The crank stands on the circle of Thales: half the slide beside it, whichever side the slider is on."""
    engine = lk.slider_crank(0.1, 0.1)
    push = lk.Input("push", "distance", "slide", ("ground", "slider"))
    motion = lk.move(replace(engine, inputs=(push,)), np.linspace(0.19, -0.19, 39))
    x = motion.input
    assert motion.point("A") == pytest.approx(x / 2 + 1j * np.sqrt(0.01 - x * x / 4), abs=10 * CLOSURE)
    assert motion.change_points == pytest.approx([0], abs=SHARP)


def test_the_other_kite():
    """Crank and coupler alike, ground and rocker alike: B is the mirror image of O in the line AQ."""
    motion = lk.move(lk.four_bar(0.2, 0.1, 0.1, 0.2), np.linspace(0.2, 0.2 + 8 * np.pi, 4001))
    line = (0.2 - motion.point("A")) / abs(0.2 - motion.point("A"))
    image = motion.point("A") + line * line * np.conj(-motion.point("A"))
    assert np.max(abs(motion.point("B") - image)) < 10 * CLOSURE
    assert motion.change_points == pytest.approx(np.pi * np.arange(1, 9), abs=SHARP)


@pytest.mark.parametrize(
    "first", [(0.4, 0.1, 0.4, 0.1), (0.1, 0.1, 0.2, 0.2)], ids=["after parallelogram", "after kite"]
)
def test_a_parallelogram_as_second_chain(first):
    """The rocker of the first chain is the crank of a parallelogram; its own coupler never turns."""
    bar = lk.four_bar(*first)
    arm, shift = bar.points["B"] - bar.points["Q"], 0.7 + 0.2j
    points = bar.points | {"R": bar.points["Q"] + shift, "C": bar.points["B"] + shift}
    links = bar.links | {"ground": ("O", "Q", "R"), "second coupler": ("B", "C"), "follower": ("R", "C")}
    machine = replace(bar, points=points, links=links, output="follower")
    motion = lk.move(machine, np.linspace(-15, 15, 3001), speed=1.0)
    assert motion.ok.all()
    assert np.max(abs(motion.point("C") - motion.point("B") - shift)) < 1e3 * CLOSURE, abs(arm)
    wild = np.isnan(motion.angular_velocity("follower"))
    assert wild.sum() == 0


@pytest.mark.parametrize("spare", [1e-2, 1e-4, 1e-6, 1e-8])
def test_just_this_side_of_a_change_point_the_circuit_stays(spare):
    """Longest and shortest a little less than the other two: the crank turns fully, and B keeps its side."""
    bar = lk.four_bar(0.4, 0.1, 0.2 + spare, 0.3)
    found = reach(bar)
    assert (found.round, found.turns) == (True, 1)
    motion = lk.move(bar, np.linspace(0, 13, 20_001))
    a, b = motion.point("A"), motion.point("B")
    assert np.min(((b - a) * np.conj(0.4 - a)).imag) > 0
    assert len(motion.change_points) == 0


@pytest.mark.parametrize("lack", [1e-2, 1e-4, 1e-6, 1e-8])
def test_just_beyond_a_change_point_the_crank_stops(lack):
    """The dead centre by the law of cosines, also where it is much nearer to a half turn than any grid."""
    c = 0.3
    a = 0.2 - lack
    found = reach(lk.four_bar(0.4, 0.1, a, c))
    ends = np.arccos((0.4**2 + 0.1**2 - (a + c) ** 2) / (2 * 0.4 * 0.1))
    assert not found.round
    # 1e-13 of the gap counts as rounding; near the half turn the gap goes with the square of the angle
    assert found.here == pytest.approx((-ends, ends), abs=1e-12 / np.sqrt(lack))


def test_a_window_much_narrower_than_the_grid_is_found():
    """Coupler and rocker just long enough: they meet while the crank is within two degrees of the ground."""
    found = reach(lk.four_bar(1, 0.1, 0.4, 0.5001))
    end = np.arccos((1 + 0.01 - 0.9001**2) / 0.2)
    assert end < np.radians(2.5)
    assert found.here == pytest.approx((-end, end), abs=SHARP)


def test_no_change_points_among_ordinary_linkages():
    for name in lk.machines():
        assert len(lk.move(lk.machine(name)).change_points) == 0
