"""The machines that dynamics are tried on: all of Marrow Quay, and linkages of the rarer kinds of group."""

from dataclasses import replace

import numpy as np

import linkkit as lk
from linkkit.placing import sketched

TURN = lk.Input("crank", "angle", "O", ("ground", "crank"))


def scotch_yoke():
    """A block on the crank pin in the slanted slot of a yoke that slides: turning-sliding-sliding."""
    points = {"O": 0, "A": 0.06 + 0.08j, "Y": 0.06 + 0.2j}
    links = {"ground": ("O",), "crank": ("O", "A"), "block": ("A",), "yoke": ("Y",)}
    slides = (
        lk.Slide("slot", "block", "yoke", points["A"], complex(np.exp(1.4j))),
        lk.Slide("ways", "yoke", "ground", 0.2j, 1 + 0j),
    )
    return lk.Linkage(points, links, "ground", slides, (TURN,))


def trammel():
    """A bar between two blocks on crossed ways, driven by its angle at one of them: sliding-turning-sliding."""
    links = {"ground": (), "block": ("A",), "other": ("B",), "bar": ("A", "B")}
    slides = (lk.Slide("h", "block", "ground", 0j, 1 + 0j), lk.Slide("v", "other", "ground", 0j, 1j))
    drive = lk.Input("bar", "angle", "A", ("block", "bar"), (0.5, 2.5))
    return lk.Linkage({"A": 0.3, "B": 0.4j}, links, "ground", slides, (drive,))


def crossed_slots():
    """Two driven arms with a pin that slides on both: sliding-turning-sliding between moving links."""
    points = {"O": 0, "Q": 0.5, "A": 0.1 + 0.3j, "B": 0.45 + 0.3j, "P": 0.25 + 0.4j}
    links = {"ground": ("O", "Q"), "crank": ("O", "A"), "arm": ("Q", "B"), "one": ("P",), "two": ("P",)}
    unit = lambda z: complex(z / abs(z))  # noqa: E731
    slides = (
        lk.Slide("s1", "one", "crank", points["P"], unit(points["P"])),
        lk.Slide("s2", "two", "arm", points["P"], unit(points["P"] - 0.5)),
    )
    drives = replace(TURN, span=(0.6, 1.2)), lk.Input("arm", "angle", "Q", ("ground", "arm"))
    return lk.Linkage(points, links, "ground", slides, drives)


def triad():
    """A link with three pins hung from crank and two levers: no dyad, placed by Newton's method."""
    points = {"O": 0, "A": 0.1j, "C": 0.4 + 0.15j, "D": 0.7 + 0.1j, "E": 0.55 + 0.4j, "G": 0.75 - 0.3j, "H": 0.5 + 0.8j}
    links = {"ground": ("O", "G", "H"), "crank": ("O", "A"), "rod": ("A", "C"), "plate": ("C", "D", "E"),
             "lever": ("D", "G"), "hanger": ("E", "H")}  # fmt: skip
    return lk.Linkage(points, links, "ground", (), (replace(TURN, span=(1.2, 2.4)),))


def third_crank():
    """A parallelogram with a third parallel crank: redundant, but it moves."""
    points = {"O": 0, "A": 0.1j, "Q": 0.4, "B": 0.4 + 0.1j, "S": 0.2, "M": 0.2 + 0.1j}
    links = {"ground": ("O", "Q", "S"), "crank": ("O", "A"), "coupler": ("A", "B", "M"), "rocker": ("Q", "B"),
             "third": ("S", "M")}  # fmt: skip
    return lk.Linkage(points, links, "ground", (), (TURN,))


def flag():
    """A four-bar with a link that can turn by itself on the crank pin."""
    bar = lk.four_bar(0.4, 0.1, 0.35, 0.25)
    return replace(bar, points=bar.points | {"W": bar.points["A"] + 0.05}, links=bar.links | {"flag": ("A", "W")})


RARE = {f.__name__: f() for f in (scotch_yoke, trammel, crossed_slots, triad, third_crank, flag)}
ALL = {name: lk.machine(name) for name in lk.machines()} | RARE


def cycle(linkage, count=24):
    """Values of the first input within its range, off its ends and off change points."""
    reach = lk.reach(linkage)
    low, high = (0.013, 0.013 + 2 * np.pi) if reach.round else reach.here
    return low + (high - low) * np.linspace(0.04, 0.96, count)


def paces(linkage):
    """A speed and an acceleration for every input."""
    speed = {i.name: 7.0 if i.kind == "angle" else 0.5 for i in linkage.inputs}
    acceleration = {i.name: -40.0 if i.kind == "angle" else 2.0 for i in linkage.inputs}
    return speed, acceleration


def moving(linkage, values=None, *, after=0.0):
    """The linkage with all inputs moving, `after` seconds from the given positions at even accelerations."""
    speed, acceleration = paces(linkage)
    values = cycle(linkage) if values is None else values
    start = {i.name: np.full_like(values, sketched(linkage, i)) for i in linkage.inputs}
    start[linkage.inputs[0].name] = values
    now = {k: q + speed[k] * after + acceleration[k] * after**2 / 2 for k, q in start.items()}
    return lk.move(
        linkage,
        now.pop(linkage.inputs[0].name),
        held=now,
        speed={k: v + acceleration[k] * after for k, v in speed.items()},
        acceleration=acceleration,
    )


def masses(linkage):
    """A mass for every moving link, its centre off the points, always the same."""
    draw = np.random.default_rng(7)
    place = lambda: complex(*draw.normal(scale=0.1, size=2))  # noqa: E731
    return {k: lk.Mass(draw.uniform(1, 3), at=place(), inertia=draw.uniform(0.005, 0.02)) for k in linkage.moving}


def loads(linkage):
    """One load of each sort, some of them functions of position and speed."""
    first, *_, last = linkage.points
    found = [lk.Force(last, lambda place, velocity: 30 - 20j + 50 * place - 5 * velocity)]
    found += [lk.SlideForce(s.name, lambda distance, speed: 100 * distance - 3 * speed) for s in linkage.slides]
    found += [lk.Torque(linkage.moving[-1], 3.0), lk.Spring(first, last, 200.0, 0.1, damping=3.0)]
    return [*found, lk.TurnSpring((linkage.fixed, linkage.moving[0]), 4.0, 0.1, damping=0.05)]
