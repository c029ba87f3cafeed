"""The constraint equations of a linkage, written once and used four ways.

Every pair and input is a few scalar equations on the links that it joins. Their residual tells how well a loop closes
and drives Newton's method; their Jacobian gives velocities; their second-order terms accelerations; the transpose
of the Jacobian gives the forces in the joints.

The unknowns of a link are the velocity of its anchor (x, y) and its angular velocity. With r the vector from the
anchor to a point of the link, the point moves at v + i omega r. For a slide, e is the unit vector of its line as the
guide carries it, and D the vector from where the guide carries the marked point of the line to where the block
carries it.
Method: as in texts on computer-aided analysis of mechanical systems (absolute coordinates, kinematic coefficients).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .breakdown import linkage_groups
from .dyads import cross, dot
from .placing import ends, sketched


@dataclass(frozen=True)
class Pin:
    """Two links carry one point: two equations, in metres."""

    at: str
    a: str
    b: str
    size = 2
    in_metres = (True, True)

    def arm(self, places, link):
        """The vector from a link's anchor to the pin; a whole 0 where the anchor is the pin."""
        r = places.linkage.shape(link, self.at) - places.anchor[link][0]
        return 0 if np.ndim(r) == 0 and r == 0 else places.u[link] * r

    def residual(self, places):
        z = places.linkage.shape
        gap = places.carry(self.a, z(self.a, self.at)) - places.carry(self.b, z(self.b, self.at))
        return (gap.real, gap.imag)

    def block(self, places, link):
        sign, r = (1 if link == self.a else -1), self.arm(places, link)
        return ((sign, 0, -sign * r.imag), (0, sign, sign * r.real))

    def bias(self, places, one, two):
        """What the second derivative holds besides accelerations, for two rates of the links (v, omega)."""
        w = one[self.b][1] * two[self.b][1] * self.arm(places, self.b)
        w = w - one[self.a][1] * two[self.a][1] * self.arm(places, self.a)
        return (w.real, w.imag)


@dataclass(frozen=True)
class Guide:
    """A block on a slide: no turning against the guide (radians), no leaving the line (metres)."""

    at: str
    a: str  # the guide
    b: str  # the block
    size = 2
    in_metres = (False, True)

    def frame(self, places):
        """e, the arms of guide and block to the marked point, and D."""
        slide = places.linkage.slide(self.at)
        z = slide.through
        e = places.u[self.a] * slide.direction
        guide, block = (places.u[k] * (z - places.anchor[k][0]) for k in (self.a, self.b))
        return e, guide, block, places.carry(self.b, z) - places.carry(self.a, z)

    def residual(self, places):
        e, _, _, d = self.frame(places)
        turn = np.angle(places.u[self.b] / places.u[self.a])
        return (turn, cross(np.asarray(e), d))

    def block(self, places, link):
        e, guide, block, d = self.frame(places)
        if link == self.b:
            return ((0, 0, 1), (-e.imag, e.real, dot(e, block)))
        return ((0, 0, -1), (e.imag, -e.real, -dot(e, guide + d)))

    def bias(self, places, one, two):
        return (0, _relative_bias(self, places, one, two).imag)


@dataclass(frozen=True)
class Drive:
    """An input: the turn of its driven link against its reference (radians), or a distance along its slide (metres)."""

    input: object
    a: str  # the reference link, or the guide
    b: str  # the driven link, or the block
    size = 1

    @property
    def at(self):
        """The pin or slide that is driven."""
        return self.input.at

    @property
    def in_metres(self):
        """Whether the input is a distance."""
        return (self.input.kind == "distance",)

    def residual(self, places):
        value = places.inputs[self.input.name]
        if self.input.kind == "angle":
            turn = places.u[self.b] / places.u[self.a] * places.linkage.heading(self.b)
            return (np.angle(turn * np.exp(-1j * np.asarray(value))),)
        e, _, _, d = Guide.frame(self, places)
        return (dot(np.asarray(e), d) - value + sketched(places.linkage, self.input),)

    def block(self, places, link):
        if self.input.kind == "angle":
            return ((0, 0, 1 if link == self.b else -1),)
        e, guide, block, d = Guide.frame(self, places)
        if link == self.b:
            return ((e.real, e.imag, -cross(e, block)),)
        return ((-e.real, -e.imag, cross(e, guide + d)),)

    def bias(self, places, one, two):
        return (0,) if self.input.kind == "angle" else (_relative_bias(self, places, one, two).real,)


@dataclass(frozen=True)
class Locked:
    """What keeps a link with an idle freedom where it is on its carrier: no turning, or no sliding."""

    at: str
    a: str
    b: str
    size = 1
    in_metres = (True,)  # a locked pin is never left over in a core

    def residual(self, places):
        return (np.zeros(np.shape(places.u[self.b])),)

    def block(self, places, link):
        if self.at in places.linkage.points:
            return ((0, 0, 1 if link == self.b else -1),)
        e, guide, block, d = Guide.frame(self, places)
        if link == self.b:
            return ((e.real, e.imag, -cross(e, block)),)
        return ((-e.real, -e.imag, cross(e, guide + d)),)

    def bias(self, places, one, two):
        return (0,) if self.at in places.linkage.points else (_relative_bias(self, places, one, two).real,)


def _relative_bias(pair, places, one, two):
    """The second-order terms of conj(e) D, for two rates of guide and block."""
    e, guide, block, d = Guide.frame(pair, places)
    (va, wa), (vb, wb) = one[pair.a], one[pair.b]
    (xa, ya), (xb, yb) = two[pair.a], two[pair.b]
    slip1 = vb + 1j * wb * block - va - 1j * wa * guide
    slip2 = xb + 1j * yb * block - xa - 1j * ya * guide
    total = wa * ya * (guide - d) - wb * yb * block - 1j * (wa * slip2 + ya * slip1)
    return np.asarray(np.conj(e) * total)


@dataclass(frozen=True)
class Block:
    """The equations that place one group's links, and those links."""

    links: tuple
    equations: tuple


def blocks(linkage) -> list[Block]:
    """The constraint equations in the order of the breakdown; as a matrix, block lower triangular."""
    if "_blocks" not in linkage.__dict__:
        object.__setattr__(linkage, "_blocks", _blocks(linkage))
    return linkage._blocks


def _blocks(linkage):
    made, placed = [], []
    for group in linkage_groups(linkage):
        new = [link for link in group.links if link != linkage.fixed]
        equations = []
        for link in group.links:
            equations += _onto(linkage, placed, link)
            placed.append(link)
        equations += [Drive(i, *ends(linkage, i)) for i in linkage.inputs if _driven_here(i, new, placed)]
        if group.kind == "idle":
            equations.append(Locked(group.ties[0].at, group.ties[0].a, group.ties[0].b))
        if new:
            made.append(Block(tuple(new), tuple(equations)))
    return made


def _onto(linkage, placed, link):
    """The pairs between a link and the links placed before it; a pin joins it to the first that carries the point."""
    found = []
    for p in linkage.links[link]:
        earlier = [k for k in placed if p in linkage.links[k]]
        if earlier:
            found.append(Pin(p, earlier[0], link))
    for s in linkage.slides:
        if link in (s.block, s.on) and (s.block in placed or s.on in placed):
            found.append(Guide(s.name, s.on, s.block))
    return found


def _driven_here(i, new, placed):
    return all(k in placed for k in i.links) and any(k in new for k in i.links)


def matrix(places, block, shape):
    """The Jacobian of a block with respect to its own links: float array, shape + (equations, 3 links)."""
    rows = sum(eq.size for eq in block.equations)
    made = np.zeros((*shape, rows, 3 * len(block.links)))
    row = 0
    for eq in block.equations:
        for link in (eq.a, eq.b):
            if link in block.links:
                column = 3 * block.links.index(link)
                for i, entries in enumerate(eq.block(places, link)):
                    for j, entry in enumerate(entries):
                        made[..., row + i, column + j] = entry
        row += eq.size
    return made


def closure(places, shape):
    """The largest distance, in metres, by which any pair of the linkage fails to close (float array)."""
    worst, reach = np.zeros(shape), _span(places.linkage)
    for block in blocks(places.linkage):
        for eq in block.equations:
            parts = eq.residual(places)
            if isinstance(eq, Pin):
                worst = np.maximum(worst, np.hypot(*parts))
            elif isinstance(eq, Guide):
                worst = np.maximum(worst, np.hypot(parts[0] * reach, parts[1]))
    for u in places.u.values():
        worst = np.maximum(worst, np.abs(np.abs(u) - 1) * reach)
    return worst


def _span(linkage):
    return max((np.fmax.reduce(np.abs(z), axis=None, initial=0.0) for z in linkage.points.values()), default=1.0)
