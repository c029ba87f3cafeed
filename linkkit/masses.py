"""The mass of a link: how much, where its centre is, and its moment of inertia about that centre."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .errors import LinkageError
from .quantity import real, shown


@dataclass(frozen=True)
class Mass:
    """The mass of one link.

    Attributes
    ----------
    mass : float
        Kilograms, at least zero; an array for a family of linkages, as all that follows.
    at : str or complex, optional
        The centre of mass: a point that the link carries, or a place in the sketch (metres). The link's only point if
        neither this nor `along` is given.
    along, across : float, optional
        The centre of mass instead by metres from the link's first point, along its direction and to the left of it.
    inertia : float
        Kilogram square metres about the centre of mass.

    Examples
    --------
    >>> Mass(2.5, along=0.1, inertia=0.004).mass
    2.5
    """

    mass: float
    at: str | complex | None = None
    along: float | None = None
    across: float = 0.0
    inertia: float = 0.0

    def __post_init__(self):
        for what, x in (("mass", self.mass), ("inertia", self.inertia)):
            sentence = f"a link's {what} must be a number of at least zero"
            if np.any(real(x, sentence) < 0):
                raise LinkageError(f"{sentence}, not {shown(x)}")
        if self.at is not None and self.along is not None:
            raise LinkageError("give a centre of mass either by at or by along and across, not both")

    def centre(self, linkage, link) -> complex:
        """The centre of mass of that link in the sketch, metres."""
        carried = linkage.links[link]
        if self.along is not None:
            return _first(linkage, link) + linkage.heading(link) * (self.along + 1j * self.across)
        if isinstance(self.at, str):
            if self.at not in carried:
                raise LinkageError(f"the mass of {link} is at {self.at}, which {link} does not carry")
            return linkage.shape(link, self.at)
        if self.at is not None:
            return self.at
        if len(carried) > 1:
            raise LinkageError(f"say where the mass of {link} has its centre: at a point, or along and across")
        return _first(linkage, link)


def uniform_bar(linkage, link, mass) -> Mass:
    """A slender bar of even thickness from a link's first point to its second.

    Inertia about the middle: m L^2 / 12 (any text on mechanics).

    Examples
    --------
    >>> import linkkit as lk
    >>> round(uniform_bar(lk.four_bar(0.4, 0.1, 0.35, 0.25), "coupler", 1.2).inertia, 5)
    0.01225
    """
    carried = linkage.links[link]
    if len(carried) < 2:
        raise LinkageError(f"{link} carries fewer than two points, so it is no bar: give its mass as a Mass")
    p, q = (linkage.shape(link, p) for p in carried[:2])
    return Mass(mass, (p + q) / 2, inertia=mass * abs(q - p) ** 2 / 12)


def uniform_plate(linkage, link, mass) -> Mass:
    """A plate of even thickness whose corners are the link's points in the order listed.

    Centre and inertia of a polygon by the sums over its sides (any text on mechanics).

    Raises
    ------
    LinkageError
        For fewer than three points, or a polygon without area.

    Examples
    --------
    >>> import linkkit as lk
    >>> bar = lk.four_bar(0.4, 0.1, 0.35, 0.25).with_point("coupler", "C", 0.1, 0.2)
    >>> round(uniform_plate(bar, "coupler", 3.0).inertia, 4)
    0.0229
    """
    z = np.array([linkage.shape(link, p) for p in linkage.links[link]], dtype=complex)
    if len(z) < 3:
        raise LinkageError(f"{link} carries fewer than three points, so it has no area: use uniform_bar")
    a, b = z - z[0], np.roll(z, -1) - z[0]
    area2 = (np.conj(a) * b).imag
    if abs(area2.sum()) < 1e-12 * np.max(np.abs(a)) ** 2:
        raise LinkageError(f"the points of {link} lie in one line, so it has no area: use uniform_bar")
    centre = (area2 * (a + b)).sum() / (3 * area2.sum())
    about_corner = (area2 * (abs(a) ** 2 + (np.conj(a) * b).real + abs(b) ** 2)).sum() / (6 * area2.sum())
    return Mass(mass, complex(z[0] + centre), inertia=float(mass * (about_corner - abs(centre) ** 2)))


def masses_of(linkage, masses) -> dict:
    """{link: Mass} from what a user gave: a number is a uniform bar, or a lump at a link's only point."""
    made = {}
    for link, given in (linkage.masses if masses is None else masses).items():
        linkage._know_links(link)
        if not isinstance(given, Mass):
            lump = len(linkage.links[link]) < 2
            given = Mass(given) if lump else uniform_bar(linkage, link, Mass(given).mass)
        given.centre(linkage, link)  # so that a wrong one is told at once
        made[link] = given
    return made


def _first(linkage, link):
    if linkage.links[link]:
        return linkage.shape(link, linkage.links[link][0])
    return next(s.through for s in linkage.slides if link in (s.block, s.on))
