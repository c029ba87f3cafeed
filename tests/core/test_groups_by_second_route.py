"""Every two-link group, on still and on moving links, guides and blocks either way round, against a general solver."""

from dataclasses import replace

import numpy as np
import pytest
from second_route import ends, follow, sketched, worst_gap

import linkkit as lk
from linkkit import Input, Linkage, Slide
from linkkit.breakdown import linkage_groups
from tolerances import CLOSURE

GROUPS = ("RRR", "RRP", "PRR", "RPR", "PRP", "RPP", "PPR")
BEARERS = [("crank", "ground"), ("ground", "crank"), ("coupler", "rocker"), ("crank", "rocker"), ("coupler", "ground")]
BAR = lk.four_bar(0.4, 0.1, 0.35, 0.25)


class Draft:
    """A four-bar to which links and slides are added, a random one for each seed."""

    def __init__(self, seed):
        self.rng = np.random.default_rng(seed)
        self.points, self.links = dict(BAR.points), {k: list(ps) for k, ps in BAR.links.items()}
        self.slides, self.inputs = [], list(BAR.inputs)

    def spot(self):
        return complex(0.2 + 0.1j + 0.3 * (self.rng.normal() + 1j * self.rng.normal()))

    def pin(self, *links):
        name = f"P{len(self.points)}"
        self.points[name] = self.spot()
        for link in links:
            self.links[link].append(name)

    def slide(self, *links):
        block, on = links if self.rng.random() < 0.5 else links[::-1]
        direction = complex(np.exp(2j * np.pi * self.rng.random()))
        self.slides.append(Slide(f"slide {len(self.slides)}", block, on, self.spot(), direction))

    def hang(self, letters, a, b, one=("one", "one"), two=("two", "two")):
        """Two links (each a near and a far end, the same link or two that an input joins) between bearers a and b."""
        for link in (*one, *two):
            self.links.setdefault(link, [])
        for letter, pair in zip(letters, ((a, one[0]), (one[1], two[0]), (two[1], b)), strict=True):
            (self.pin if letter == "R" else self.slide)(*pair)

    def linkage(self):
        links = {k: tuple(ps) for k, ps in self.links.items()}
        return Linkage(self.points, links, "ground", self.slides, self.inputs)


def wiggle(linkage, name, far=0.06):
    """A few values of an input about its sketched one."""
    i = next(i for i in linkage.inputs if i.name == name)
    return sketched(linkage, i) + far * np.linspace(-1, 1, 5)


def drafted(seed, **parts):
    """A draft that can be moved a little: the first of a row of random ones whose input has room on both sides."""
    for again in range(20):
        draft = Draft([seed, again])
        draft.hang(**parts)
        if lk.move(draft.linkage(), wiggle(draft.linkage(), "crank")).ok.all():
            return draft.linkage()
    raise AssertionError("no draft of twenty can be moved")


@pytest.mark.parametrize("seed", [1, 2, 3])
@pytest.mark.parametrize("bearers", BEARERS, ids="-".join)
@pytest.mark.parametrize("letters", GROUPS)
def test_group(letters, bearers, seed):
    linkage = drafted(seed, letters=letters, a=bearers[0], b=bearers[1])
    assert linkage_groups(linkage)[-1].kind in (letters, letters[::-1])
    values = wiggle(linkage, "crank")
    motion = lk.move(linkage, values)
    assert motion.ok.all()
    assert worst_gap(linkage, motion, follow(linkage, values)) < 1e3 * CLOSURE  # scipy's own tolerance


@pytest.mark.parametrize("letters", GROUPS)
@pytest.mark.parametrize("which", ["one", "two"])
@pytest.mark.parametrize("kind", ["distance", "angle"])
def test_an_input_inside_a_group(letters, which, kind):
    """One of the two links is a pair of links with a ram, or a driven pin, between them."""
    linkage = with_ram(letters, which, kind)
    by_ram = wiggle(linkage, "ram", 0.03)
    motion = lk.move(linkage, by_ram, drive="ram")
    assert worst_gap(linkage, motion, follow(linkage, by_ram, drive="ram")) < 1e3 * CLOSURE
    values, held = wiggle(linkage, "crank"), {"ram": float(by_ram[3])}
    motion = lk.move(linkage, values, held=held)
    assert worst_gap(linkage, motion, follow(linkage, values, held=held)) < 1e3 * CLOSURE


def with_ram(letters, which, kind):
    """The first of a row of random machines in which both inputs have room on both sides."""
    for seed in range(40):
        draft, halves = Draft(seed), ("near", "far")
        draft.hang(letters, "coupler", "rocker", **{which: halves})
        (draft.pin if kind == "angle" else draft.slide)(*halves)
        at = list(draft.points)[-1] if kind == "angle" else draft.slides[-1].name
        draft.inputs.append(Input("ram", kind, at, halves))
        linkage = draft.linkage()
        by_ram, by_crank = wiggle(linkage, "ram", 0.03), wiggle(linkage, "crank")
        if all(lk.move(linkage, by_crank, held={"ram": x}).ok.all() for x in by_ram):
            return linkage
    raise AssertionError("no machine of forty can be moved")


@pytest.mark.parametrize("letters", ["RRR", "RRP", "RPR"])
def test_both_sides_of_a_group(letters):
    """The mirror image of a sketch moves as the mirror image: the root is the sketch's own."""
    draft = Draft(5)
    draft.hang(letters, "ground", "crank")
    one = draft.linkage()
    slides = [replace(s, through=s.through.conjugate(), direction=s.direction.conjugate()) for s in one.slides]
    two = replace(one, points={p: z.conjugate() for p, z in one.points.items()}, slides=tuple(slides))
    values = wiggle(one, "crank")
    motions = lk.move(one, values), lk.move(two, -values)
    for point in one.points:
        assert np.abs(motions[0].point(point) - np.conj(motions[1].point(point))).max() < CLOSURE


def test_hoist_with_ram_held_and_driven():
    hoist = lk.machine("crate-hoist")
    crank, ram = np.linspace(1.4, 4.4, 7), np.linspace(1.42, 1.58, 5)
    places = follow(hoist, crank, held={"ram": 1.55})
    assert worst_gap(hoist, lk.move(hoist, crank, held={"ram": 1.55}), places) < 1e3 * CLOSURE
    places = follow(hoist, ram, drive="ram", held={"crank": 2.0})
    assert worst_gap(hoist, lk.move(hoist, ram, drive="ram", held={"crank": 2.0}), places) < 1e3 * CLOSURE


def test_held_may_change_along_the_cycle():
    hoist = lk.machine("crate-hoist")
    crank, ram = np.linspace(0, 3, 4), np.linspace(1.42, 1.58, 4)
    together = lk.move(hoist, crank, held={"ram": ram})
    for n in range(4):
        alone = lk.move(hoist, crank[n], held={"ram": ram[n]})
        assert abs(together.point("R")[n] - alone.point("R")) < CLOSURE


def test_parallel_lines_of_two_blocks_cannot_be_assembled():
    """PRP: the crank turns one line parallel to the other; there no place of the pin is right."""
    points = {"O": 0j, "A": 0.1 + 0j, "B": 0.2 + 0.1j}
    links = {"ground": ("O",), "crank": ("O", "A"), "one": ("B",), "two": ("B",)}
    slides = (Slide("s", "one", "crank", 0.2 + 0.1j, 1j), Slide("t", "two", "ground", 0.2 + 0.1j, 1 + 0j))
    turn = Input("crank", "angle", "O", ("ground", "crank"))
    motion = lk.move(Linkage(points, links, "ground", slides, (turn,)), [0.0, np.pi / 2, 1.0])
    assert motion.ok.tolist() == [True, False, True]
    assert np.isnan(motion.point("B")).tolist() == [False, True, False]
    assert motion.point("B")[2] == pytest.approx((0.2 - 0.1 * np.sin(1.0)) / np.cos(1.0) + 0.1j, abs=CLOSURE)


def inverted_value(linkage, fixed, theta):
    """The input of an inversion that stands like the original at theta: who drives may have changed."""
    i = linkage.inputs[0]
    before, after = ends(linkage, i), ends(linkage.with_fixed(fixed), i)
    if before == after:
        return theta
    old, new = (np.angle(linkage.heading(pair[1])) for pair in (before, after))
    return new - (theta - old)


INVERTED = {
    "four-bar": BAR, "slider-crank": lk.slider_crank(0.05, 0.2, 0.01), "shaper": lk.machine("boatshed-shaper"),
    "lift": lk.machine("brine-lift"), "press": lk.machine("fish-press"), "launch": lk.machine("steam-launch"),
    "pump": lk.machine("bilge-pump"),
}  # fmt: skip


@pytest.mark.parametrize(
    ("name", "fixed"), [(name, link) for name, linkage in INVERTED.items() for link in linkage.links]
)
def test_inversion_keeps_relative_motion(name, fixed):
    linkage = INVERTED[name]
    inverted = linkage.with_fixed(fixed)
    before = lk.move(linkage, steps=24)
    after = lk.move(inverted, inverted_value(linkage, fixed, before.input))
    assert after.ok.all()
    assert inverted.inputs == linkage.inputs, "the input pair stays"
    size = max(abs(z) for z in linkage.points.values())
    for link in linkage.links:
        turned = before.rotation(link) * np.conj(before.rotation(fixed))
        assert np.abs(turned - after.rotation(link)).max() < 10 * CLOSURE
        seen = np.conj(before.rotation(fixed)) * (before.place(link, 0j) - before.place(fixed, 0j))
        assert np.abs(seen - after.place(link, 0j)).max() < 10 * CLOSURE * size
    for point, carriers in linkage.carriers.items():
        if fixed in carriers:
            assert np.abs(after.point(point) - linkage.points[point]).max() < CLOSURE * size, "fixed as sketched"


def test_the_input_of_an_inversion_is_the_direction_of_the_link_that_moves():
    turned = BAR.with_fixed("crank")
    motion = lk.move(turned, 0.3)
    assert motion.angle("ground") == pytest.approx(0.3, abs=1e-12)
    assert motion.point("O") == BAR.points["O"]
    assert motion.point("A") == BAR.points["A"]
