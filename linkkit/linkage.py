"""A planar linkage: links that share points, and slides, drawn once in one sketch.

Points are complex numbers ``x + i y`` in metres. A link is the list of points that it carries, and it is rigid,
so every length follows from the sketch. A point carried by k links is k - 1 turning pairs. The sketch also
decides the circuit: a motion stays on the circuit on which the linkage was drawn.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from functools import cached_property
from itertools import combinations

import numpy as np

from .errors import LinkageError
from .quantity import real, shown


@dataclass(frozen=True)
class Slide:
    """A sliding pair: `block` slides on the link `on`, along the line through `through` in `direction`.

    `through` (metres) and `direction` (a unit vector) are complex numbers in the sketch. The line belongs to both
    links: neither can turn against the other, and the block keeps on the line.
    """

    name: str
    block: str
    on: str
    through: complex
    direction: complex


@dataclass(frozen=True)
class Pair:
    """A kinematic pair: `kind` is ``"turning"`` or ``"sliding"``, `at` names its point or slide, `links` joins two."""

    kind: str
    at: str
    links: tuple[str, str]


@dataclass(frozen=True)
class Input:
    """A motion put in at one pair: the angle at a pin, or the distance along a slide.

    An angle is the direction of the driven link (the second of `links`), anticlockwise from +x, measured as if the
    reference link (the first) stood as it is sketched; where the driven link is the fixed one, the two change parts.
    A distance is measured along the slide from the first point of the guide to the first point of the block.
    `span` is the range to sweep, in radians or metres; None is one whole turn.
    """

    name: str
    kind: str
    at: str
    links: tuple[str, str]
    span: tuple[float, float] | None = None


@dataclass(frozen=True, eq=False)
class Linkage:
    """Links that share points, and slides, with one link fixed.

    Parameters
    ----------
    points : dict of str to complex
        Where each point lies in the sketch, in metres. An array in place of a number makes a family of linkages.
    links : dict of str to tuple of str
        The points that each link carries. The direction of a link runs from its first point to its second.
    fixed : str
        The fixed link.
    slides : tuple of Slide
    inputs : tuple of Input
        The first one drives unless `move` is told otherwise.
    output : str, optional
        The link whose motion is wanted; the output of the last four-link chain if not given.
    name, about : str
        A title and a sentence.
    masses : dict of str to Mass
        The masses of links, for `forces`; motion needs none.

    Raises
    ------
    LinkageError
        With a sentence that names the link or point, what is wrong and what would be right.

    Examples
    --------
    >>> triangle = Linkage({"O": 0, "A": 0.1j}, {"ground": ("O",), "crank": ("O", "A")}, "ground")
    >>> triangle.length("O", "A")
    0.1
    """

    points: dict
    links: dict
    fixed: str
    slides: tuple = ()
    inputs: tuple = ()
    output: str | None = None
    name: str = ""
    about: str = ""
    masses: dict = field(default_factory=dict)
    shapes: dict = field(default_factory=dict, repr=False)  # (link, point): z, only while a length is changed

    def __post_init__(self):
        from .sketch import check, tidy

        tidy(self)
        check(self)

    def __eq__(self, other):
        if not isinstance(other, Linkage):
            return NotImplemented
        alike = ("links", "fixed", "slides", "inputs", "output", "name", "masses")
        same = all(getattr(self, n) == getattr(other, n) for n in alike)
        return same and _same_points(self.points, other.points)

    __hash__ = None

    @cached_property
    def carriers(self) -> dict:
        """The links that carry each point, in the order in which the links are listed."""
        return {p: tuple(link for link, carried in self.links.items() if p in carried) for p in self.points}

    @cached_property
    def pairs(self) -> tuple:
        """Every pair: a point carried by k links gives k - 1 turning pairs, each slide a sliding pair."""
        pins = [Pair("turning", p, (k[0], other)) for p, k in self.carriers.items() for other in k[1:]]
        return tuple(pins) + tuple(Pair("sliding", s.name, (s.on, s.block)) for s in self.slides)

    @cached_property
    def moving(self) -> tuple:
        """The links other than the fixed one."""
        return tuple(link for link in self.links if link != self.fixed)

    def slide(self, name) -> Slide:
        """The slide of that name."""
        for s in self.slides:
            if s.name == name:
                return s
        names = ", ".join(s.name for s in self.slides) or "none"
        raise LinkageError(f"there is no slide {shown(name)}; the slides are {names}")

    def shape(self, link, point):
        """The sketch position of a point as the link carries it (metres, complex)."""
        return self.shapes.get((link, point), self.points[point])

    def length(self, p, q):
        """The distance between two points of the sketch, in metres."""
        self._know_points(p, q)
        return _plain(abs(self.points[q] - self.points[p]))

    def heading(self, link):
        """The unit vector of a link in the sketch: first point to second, or along its slide if it has fewer."""
        kept = self.__dict__.setdefault("_headings", {})
        if link not in kept:
            kept[link] = self._heading(link)
        return kept[link]

    def _heading(self, link):
        carried = self.links[link]
        if len(carried) > 1:
            d = self.shape(link, carried[1]) - self.shape(link, carried[0])
            with np.errstate(invalid="ignore"):  # members of a family that never close are nan
                return d / abs(d)
        along = [s.direction for s in self.slides if link == s.block] + [
            s.direction for s in self.slides if link == s.on
        ]
        return along[0] if along else 1 + 0j

    def joined(self, a, b) -> tuple:
        """The points and slides at which links a and b are paired with each other."""
        shared = tuple(p for p in self.links[a] if p in self.links[b])
        return shared + tuple(s.name for s in self.slides if {s.block, s.on} == {a, b})

    def with_fixed(self, link) -> Linkage:
        """The inversion with another link fixed, the rest of the sketch and the input pair as they were.

        The input angle is then the direction of the link of the input pair that moves.

        Examples
        --------
        >>> import linkkit as lk
        >>> lk.four_bar(0.4, 0.1, 0.35, 0.25).with_fixed("coupler").fixed
        'coupler'
        """
        self._know_links(link)
        return replace(self, fixed=link)

    def with_point(self, link, name, along, across=0.0) -> Linkage:
        """The same linkage with one more point on a link.

        `along` and `across` are metres from the link's first point: along its direction, and to the left of it.
        """
        self._know_links(link)
        if name in self.points:
            raise LinkageError(f"there is already a point {name}: give the new point of {link} another name")
        carried = self.links[link]
        start = self.points[carried[0]] if carried else next(s.through for s in self.slides if link in (s.block, s.on))
        along, across = (real(x, f"the place of {name} must be in metres") for x in (along, across))
        spot = start + self.heading(link) * (along + 1j * across)
        return replace(self, points=self.points | {name: spot}, links=self.links | {link: (*carried, name)})

    def with_length(self, p, q, metres) -> Linkage:
        """The linkage redrawn with another distance between two points of one link, on the same circuit.

        The point q moves along the line from p, on every link that carries both; other points of those links stay.
        The input keeps its sketched value if the linkage still assembles there, else the nearest at which it does.

        Raises
        ------
        LinkageError
            If no link carries both points, or the new length cannot be assembled on this circuit.
        """
        from .redraw import with_length

        return with_length(self, p, q, metres)

    def _know_points(self, *names):
        for name in names:
            if not isinstance(name, str) or name not in self.points:
                raise LinkageError(f"there is no point {shown(name)}; the points are {', '.join(self.points)}")

    def _know_links(self, *names):
        for name in names:
            if not isinstance(name, str) or name not in self.links:
                raise LinkageError(f"there is no link {shown(name)}; the links are {', '.join(self.links)}")


def _plain(x):
    return float(x) if np.ndim(x) == 0 else x


def _same_points(a, b):
    return list(a) == list(b) and all(np.array_equal(a[p], b[p]) for p in a)


def known(linkage) -> Linkage:
    """The linkage, or a sentence if it is something else."""
    if not isinstance(linkage, Linkage):
        raise LinkageError(f"a Linkage is needed here, as four_bar or read make it, not {shown(linkage)}")
    return linkage


def is_family(linkage) -> bool:
    """Whether the sketch holds arrays: many linkages of one kind at once."""
    known(linkage)
    if "_family" not in linkage.__dict__:
        linkage.__dict__["_family"] = any(np.ndim(z) for z in linkage.points.values())
    return linkage.__dict__["_family"]


def distances(linkage) -> dict:
    """The distance between every two points of each link: (link, p, q) to metres."""
    return {(k, p, q): linkage.length(p, q) for k, ps in linkage.links.items() for p, q in combinations(ps, 2)}
