"""Every two-link group of turning and sliding pairs, held to the law that its pairs close, and to its circuit."""

import numpy as np
import pytest

import linkkit as lk
from linkkit import Input, Linkage, Slide
from linkkit.breakdown import linkage_groups
from tolerances import CLOSURE

TURN = Input("crank", "angle", "O", ("ground", "crank"))
CRANK = {"O": 0j, "A": 0.06 + 0.08j}


def rrr():
    points = CRANK | {"B": 0.45 + 0.25j, "Q": 0.4 + 0j}
    links = {"ground": ("O", "Q"), "crank": ("O", "A"), "coupler": ("A", "B"), "rocker": ("Q", "B")}
    return Linkage(points, links, "ground", inputs=(TURN,))


def rrp(swap=False):
    points = CRANK | {"B": 0.45 + 0.02j}
    links = {"ground": ("O",), "crank": ("O", "A"), "rod": ("A", "B"), "slider": ("B",)}
    ends = ("ground", "slider") if swap else ("slider", "ground")
    return Linkage(points, links, "ground", (Slide("s", *ends, 0.02j, np.exp(0.1j)),), (TURN,))


def rpr(swap=False, offset=0.03):
    points = CRANK | {"Q": 0.02 - 0.3j}
    links = {"ground": ("O", "Q"), "crank": ("O", "A"), "block": ("A",), "lever": ("Q",)}
    along = (points["A"] - points["Q"]) / abs(points["A"] - points["Q"])
    ends = ("lever", "block") if swap else ("block", "lever")
    return Linkage(points, links, "ground", (Slide("s", *ends, points["Q"] + 1j * offset * along, along),), (TURN,))


def prp():
    points = CRANK | {"B": 0.2 + 0.15j}
    links = {"ground": ("O",), "crank": ("O", "A"), "arm block": ("B",), "frame block": ("B",)}
    slides = (
        Slide("on crank", "arm block", "crank", points["B"], np.exp(1.1j)),
        Slide("on frame", "frame block", "ground", points["B"], np.exp(-0.4j)),
    )
    return Linkage(points, links, "ground", slides, (Input("crank", "angle", "O", ("ground", "crank"), (0.7, 1.1)),))


def rpp():
    links = {"ground": ("O",), "crank": ("O", "A"), "block": ("A",), "yoke": ()}
    slides = (Slide("slot", "block", "yoke", CRANK["A"], 1j), Slide("ways", "yoke", "ground", 0.1j, 1 + 0j))
    return Linkage(CRANK, links, "ground", slides, (TURN,))


def ram_between():
    """A body whose shape an input changes, as one bar of an RRR."""
    return lk.machine("crate-hoist")


LINKAGES = {
    "RRR": rrr(), "RRP": rrp(), "PRR": rrp(swap=True), "RPR": rpr(), "RPR mirrored": rpr(swap=True, offset=-0.03),
    "PRP": prp(), "RPP": rpp(), "a ram as a bar": ram_between(),
}  # fmt: skip


def open_by(motion):
    """The largest failure of any pair, worked out from the places of the links alone."""
    linkage, worst = motion.linkage, 0.0
    for pair in linkage.pairs:
        a, b = pair.links
        if pair.kind == "turning":
            z = linkage.points[pair.at]
            worst = max(worst, abs(motion.place(a, z) - motion.place(b, z)).max())
        else:
            s = linkage.slide(pair.at)
            off = (motion.place(s.block, s.through) - motion.place(s.on, s.through)) / motion.rotation(s.on)
            turned = motion.rotation(s.block) / motion.rotation(s.on)
            worst = max(worst, abs((off * np.conj(s.direction)).imag).max(), abs(turned - 1).max())
    return worst


@pytest.mark.parametrize("kind", LINKAGES)
def test_pairs_close_and_links_stay_rigid(kind):
    motion = lk.move(LINKAGES[kind])
    assert motion.ok.all()
    longest = max(abs(z) for z in motion.linkage.points.values())
    assert open_by(motion) <= CLOSURE * max(longest, 1.0)
    for link in motion.linkage.links:
        assert abs(abs(motion.rotation(link)) - 1).max() <= CLOSURE


@pytest.mark.parametrize("kind", LINKAGES)
def test_the_sketch_is_one_of_its_own_positions(kind):
    linkage = LINKAGES[kind]
    i = linkage.inputs[0]
    motion = lk.move(linkage, float(np.angle(linkage.heading(i.links[1]))))
    for point, z in linkage.points.items():
        assert abs(motion.point(point) - z) <= CLOSURE


@pytest.mark.parametrize("kind", LINKAGES)
def test_neighbouring_positions_lie_side_by_side(kind):
    motion = lk.move(LINKAGES[kind], steps=3600)
    for link in motion.linkage.moving:
        assert abs(np.diff(motion.rotation(link))).max() < 0.03, "a jump would mean another circuit"


def test_the_groups_are_the_ones_named():
    for kind in ("RRR", "RRP", "PRR", "RPR", "PRP", "RPP"):
        found = linkage_groups(LINKAGES[kind])[1].kind
        assert found in (kind, kind[::-1])


def test_scotch_yoke_moves_as_the_cosine():
    motion = lk.move(rpp())
    start = CRANK["A"].real
    assert motion.place("yoke", 0j).real == pytest.approx(0.1 * np.cos(motion.input) - start, abs=CLOSURE)


def test_double_slider_link_draws_an_ellipse():
    """Archimedes' trammel: with both ends on square lines, the middle of the bar moves on a circle of half its length."""
    points = {"X": 0.3 + 0j, "Y": 0.4j, "M": 0.15 + 0.2j, "O": 0j}
    links = {"ground": ("O",), "bar": ("X", "Y", "M"), "x block": ("X",), "y block": ("Y",)}
    slides = (Slide("x", "x block", "ground", 0j, 1 + 0j), Slide("y", "y block", "ground", 0j, 1j))
    push = Input("push", "distance", "x", ("ground", "x block"), (0.05, 0.45))
    motion = lk.move(Linkage(points, links, "ground", slides, (push,)))
    assert abs(motion.point("M")) == pytest.approx(0.25, abs=CLOSURE)
