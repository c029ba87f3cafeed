"""Each link's own shapes in its sketch frame (bars, plates, guides, blocks, rams), and the roles of links."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from itertools import pairwise

import numpy as np

from ..relative import block_middle
from . import symbols
from .scene import Group, Path

MARGIN_PX = 22.0


@dataclass(frozen=True)
class Ram:
    """A barrel and the rod in it, along a slide: the barrel's foot, the rod's tip, both lengths (sketch, metres)."""

    foot: complex
    tip: complex
    along: complex
    barrel: float
    rod: float


@dataclass(frozen=True)
class Sliding:
    """A slide as it is drawn: the block's centre in the sketch, and the stretch of guide that the block
    covers.

    `near` and `far` are distances along the guide from its `through` point, in the frame of the link that is
    the guide. A slide that is itself an input between two moving links is drawn as a ram.
    """

    slide: object
    centre: complex
    near: float
    far: float
    ram: Ram | None = None

    def foot(self, z):
        """The point of the guide's line that lies nearest to z."""
        s = self.slide
        return s.through + ((z - s.through) * s.direction.conjugate()).real * s.direction

    def guide(self, extra=0.0):
        """Both ends of the guide in the sketch of its link, longer by `extra` metres at each end."""
        s = self.slide
        return s.through + (self.near - extra) * s.direction, s.through + (self.far + extra) * s.direction


def roles(linkage) -> dict:
    """The role of each link, for its look: fixed, input, output, coupler (combined motion) or link."""
    pivots = {p for p in linkage.links[linkage.fixed] if len(linkage.carriers[p]) > 1}
    found = {link: "link" if pivots & set(carried) else "coupler" for link, carried in linkage.links.items()}
    for s in linkage.slides:
        if s.on == linkage.fixed:
            found[s.block] = "link"
    found |= {_driven(linkage, i): "input" for i in linkage.inputs}
    if linkage.output and linkage.output in found and found[linkage.output] != "input":
        found[linkage.output] = "output"
    return found | {linkage.fixed: "fixed"}


def _driven(linkage, given):
    """The link of the input pair that moves: with the driven link fixed, the two change parts."""
    reference, driven = given.links
    return reference if driven == linkage.fixed else driven


def pins(linkage) -> dict:
    """The points that are turning pairs, with the number of links on each."""
    return {p: len(links) for p, links in linkage.carriers.items() if len(links) > 1}


def through_pins(linkage) -> list:
    """The pins in the middle of moving straight links: (point, link, direction of the link in the sketch)."""
    found = []
    for link in linkage.moving:
        spots = {p: linkage.points[p] for p in linkage.links[link]}
        if len(spots) > 2 and symbols.in_line(spots.values()):
            way = linkage.heading(link)
            along = {p: (z * np.conj(way)).real for p, z in spots.items()}
            inner = [p for p in spots if min(along.values()) < along[p] < max(along.values())]
            found += [(p, link, way) for p in inner if len(linkage.carriers[p]) > 1]
    return found


def slidings(cycle) -> dict:
    """How each slide of the linkage is drawn, by its name."""
    linkage = cycle.linkage
    rams = {i.at for i in linkage.inputs if i.kind == "distance"}
    return {s.name: _sliding(cycle, s, s.name in rams and linkage.fixed not in (s.block, s.on)) for s in linkage.slides}


def _sliding(cycle, s, ram):
    centre = block_middle(cycle.linkage, s)
    seen = (cycle.place(s.block, centre) - cycle.place(s.on, 0j)) * cycle.turn(s.on).conj()
    along = ((seen - s.through) * np.conj(s.direction)).real
    along = np.append(along[np.isfinite(along)], ((centre - s.through) * np.conj(s.direction)).real)
    near, far = float(along.min()), float(along.max())
    return Sliding(s, centre, near, far, _ram(cycle.linkage, s, near, far) if ram else None)


def _ram(linkage, s, near, far):
    """A barrel and a rod whose piston stays in the barrel over the travel, if one stroke allows it."""
    foot, tip = (s.through + _along(linkage, k, s) * s.direction for k in (s.on, s.block))
    base = _along(linkage, s.on, s)
    shortest, longest = sorted((abs(near - base), abs(far - base)))
    barrel = 0.8 * shortest
    rod = min(0.92 * shortest, max(0.6 * shortest, longest - 0.8 * barrel))
    return Ram(foot, tip, s.direction if near + far > 2 * base else -s.direction, barrel, rod)


def _along(linkage, link, s):
    """How far along the slide's line the first point of a link lies (metres)."""
    spots = [linkage.points[p] for p in linkage.links[link]]
    return float(((spots[0] - s.through) * np.conj(s.direction)).real) if spots else 0.0


def far_side(cycle, slide) -> complex:
    """The side of a guide to hatch: below it, or away from a machine that lies well to one side."""
    side = slide.direction * 1j
    others = [p for p in cycle.linkage.points if p not in cycle.linkage.links[slide.block]]
    middles = [cycle.point(p)[cycle.ok].mean() for p in others] if cycle.ok.any() else []
    off = float(np.mean([((z - slide.through) * np.conj(side)).real for z in middles])) if middles else 0.0
    size = max((abs(z - slide.through) for z in cycle.linkage.points.values()), default=1.0)
    if abs(off) < 0.25 * size:
        return -side if (side.imag, -side.real) > (0, 0) else side
    return -side if off > 0 else side


def body_spots(cycle, link, sliding) -> list:
    """Where a link is drawn in its sketch: its points, its blocks, the ends of its moving guides."""
    linkage = cycle.linkage
    spots = [linkage.points[p] for p in linkage.links[link]]
    for s in sliding.values():
        if s.slide.block == link:
            spots.append(s.ram.tip - s.ram.rod * s.ram.along if s.ram else s.centre)
        elif s.slide.on == link:
            spots += [s.ram.foot + s.ram.barrel * s.ram.along] if s.ram else s.guide()
    return spots


def stretches(cycle, link, sliding) -> list:
    """The straight lines (ends in the sketch) that a link is drawn with, the longest first."""
    spots = body_spots(cycle, link, sliding)
    guides = [s for s in sliding.values() if s.slide.on == link and not s.ram]
    if rod := next((s.ram for s in sliding.values() if s.slide.block == link and s.ram), None):
        lines = [(rod.tip, rod.foot + rod.barrel * rod.along)]  # what is seen of it outside the barrel
    elif guides:
        points = [cycle.linkage.points[p] for p in cycle.linkage.links[link]]
        lines = [(z, s.foot(z)) for s in guides for z in points]
        along = lambda s, z: (z * s.slide.direction.conjugate()).real  # noqa: E731
        ends = [sorted([*s.guide(), *map(s.foot, points)], key=partial(along, s)) for s in guides]
        lines += [(line[0], line[-1]) for line in ends]
    elif len(spots) < 3 or symbols.in_line(spots):
        lines = [(a, b) for k, a in enumerate(spots) for b in spots[:k]]
    else:
        corners = symbols.hull(spots)
        lines = list(pairwise([*corners, corners[0]]))
    return sorted(lines, key=lambda line: -abs(line[1] - line[0]))


def link_groups(cycle, px, sliding, play=None) -> tuple:
    """One group for each moving link, and one for each block, placed at the moment shown; `play` gives other roles."""
    play = play or roles(cycle.linkage)
    bodies = [ride(cycle, f"link:{k}", k, _link_shapes(cycle, k, play[k], px, sliding)) for k in cycle.linkage.moving]
    blocks = [_block(cycle, s, play, px) for s in sliding.values() if not s.ram]
    return tuple(g for g in bodies if g.shapes) + tuple(blocks)


def ride(cycle, name, link, shapes, *, spot=0j, layer="link", upright=False) -> Group:
    """Shapes drawn about the sketch point `spot` of a link, as a group that rides on it."""
    at, turn = cycle.now(link, spot)
    return Group(name, shapes, at, 1 + 0j if upright else turn, layer, link, spot, upright)


def _block(cycle, s, play, px):
    k = s.slide.block
    shapes = symbols.block(s.centre, s.slide.direction, px, role=play[k], layer="block")
    if play[k] == "fixed":
        a, shift = (
            symbols.BLOCK_PX[0] / 2 * px * s.slide.direction,
            symbols.BLOCK_PX[1] / 2 * px * s.slide.direction * -1j,
        )
        shapes += symbols.ground_line(s.centre - a + shift, s.centre + a + shift, px, far=s.slide.direction * -1j)
    return ride(cycle, f"block:{s.slide.name}", k, shapes, layer="block")


def _link_shapes(cycle, link, role, px, sliding):
    linkage = cycle.linkage
    spots = [linkage.points[p] for p in linkage.links[link]]
    spots += [s.centre for s in sliding.values() if s.slide.block == link and not s.ram and s.centre not in spots]
    guides = [s for s in sliding.values() if s.slide.on == link and not s.ram]
    shapes = _body(spots, role, link) if len(spots) > 1 and not guides else ()
    for s in guides:
        shapes += _guide(s, spots, role, link, px)
    for s in sliding.values():
        if s.ram and link in (s.slide.block, s.slide.on):
            shapes = _ram_part(s, link, role, px) + (shapes if len(spots) > 1 else ())
    return shapes


def _body(spots, role, link):
    return (
        symbols.bar(spots, role=role, name=link)
        if symbols.in_line(spots)
        else symbols.plate(spots, role=role, name=link)
    )


def _guide(s, spots, role, link, px):
    """A moving guide: long enough for the block's travel and the pins, square arms to pins beside it."""
    d, start = s.slide.direction, s.slide.through
    local = [(z - start) * np.conj(d) for z in spots]
    reach = [s.near - MARGIN_PX * px, s.far + MARGIN_PX * px, *(z.real for z in local)]
    shapes = [Path((start + min(reach) * d, start + max(reach) * d), role, name=link)]
    for z, w in zip(spots, local, strict=True):
        if abs(w.imag) > px:
            foot = start + w.real * d
            inward = d if w.real < (min(reach) + max(reach)) / 2 else -d
            shapes += [Path((z, foot), role), *symbols.corner(foot, z - foot, inward, px, role=role)]
    return tuple(shapes)


def _ram_part(s, link, role, px):
    """The barrel on the guide's link, or the rod and piston on the block's."""
    r = s.ram
    end = r.tip - r.rod * r.along
    barrel, piston = symbols.ram(r.foot, end, r.along, max(r.barrel, 12 * px), px, role=role)
    return barrel if link == s.slide.on else (Path((end, r.tip), role, name=link), *piston)
