"""What may be added to a line diagram: paths, ghost positions, ranges, arrows, a scale bar."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from . import symbols
from .scene import Arc, Group, Path
from .skeleton import far_side, link_groups, pins, ride
from .units import length_text, round_length

PATH_STEPS = 120


def paths(sheet, points) -> tuple:
    """The path of each point over the cycle, broken where the linkage is not assembled."""
    return tuple(line for p in points for line in _runs(sheet.cycle, sheet.cycle.point(p), p))


def _runs(cycle, z, name):
    if cycle.whole_turn:
        thin = z[:: max(1, len(z) // PATH_STEPS)]
        return [Path(tuple(thin.tolist()), "path", "path", closed=True, name=f"path:{name}")]
    edges = np.flatnonzero(np.diff(np.isfinite(z).astype(int)))
    pieces = [run for run in np.split(z, edges + 1) if np.isfinite(run).all() and len(run) > 1]
    return [Path(tuple(_thinned(run).tolist()), "path", "path", name=f"path:{name}") for run in pieces]


def _thinned(run):
    return run[np.unique(np.linspace(0, len(run) - 1, PATH_STEPS).astype(int))]


def ghosts(sheet, which) -> tuple:
    """Thin copies of the moving links at other positions of the cycle."""
    cycle = sheet.cycle
    if isinstance(which, int):
        usable = np.flatnonzero(cycle.ok)
        which = usable[np.linspace(0, len(usable), which, endpoint=False).astype(int)] if which else ()
    return tuple(g for k in which for g in _ghost(sheet, int(k)))


def _ghost(sheet, k):
    there = replace(sheet.cycle, moment=k)
    for group in link_groups(there, sheet.px, sheet.sliding):
        lines = tuple(replace(s, role="ghost", layer="ghost", fill="", name="") for s in group.shapes)
        yield Group(f"ghost:{k}:{group.name}", lines, group.at, group.turn, "ghost")


def ranges(sheet) -> tuple:
    """How far each link swings on a fixed pivot (an arc at its outermost pin) or slides on a fixed guide."""
    linkage, shapes = sheet.cycle.linkage, []
    for k in linkage.moving:
        shapes += [s for pivot in _pivots(linkage, k) for s in _swing(sheet, k, pivot)]
    for s in sheet.sliding.values():
        if s.slide.on == linkage.fixed:
            shapes += _travel(sheet, s)
    return tuple(shapes)


def _pivots(linkage, link):
    return [p for p in linkage.links[link] if p in linkage.links[linkage.fixed]][:1]


def _swing(sheet, link, pivot):
    linkage = sheet.cycle.linkage
    centre = linkage.points[pivot]
    arm = max((linkage.points[p] - centre for p in linkage.links[link]), key=abs)
    turned = sheet.cycle.turn(link)
    angle = np.unwrap(np.angle(turned[np.isfinite(turned)] * arm))
    if not len(angle) or not abs(arm):
        return []
    low, high = float(angle.min()), float(angle.max())
    ends = () if sheet.cycle.goes_round(link) else (low, high)
    arc = Arc(centre, abs(arm), low, (high - low) if ends else 2 * np.pi, "range", "path", f"range:{link}")
    return [arc, *(_tick(centre, abs(arm), e, sheet.px) for e in ends)]


def _tick(centre, radius, angle, px):
    way = complex(math.cos(angle), math.sin(angle))
    return Path((centre + (radius - 8 * px) * way, centre + (radius + 8 * px) * way), "path", "path")


def _travel(sheet, s):
    lift = -16 * sheet.px * far_side(sheet.cycle, s.slide)
    ends = [z + lift for z in s.guide()]
    return [
        Path(tuple(ends), "range", "path", name=f"range:{s.slide.block}"),
        *(Path((z - lift / 2, z + lift / 2), "path", "path") for z in ends),
    ]


def arrows(sheet) -> tuple:
    """The motion of each input and of the output: round, to and fro, or straight."""
    linkage, found = sheet.cycle.linkage, []
    for i in linkage.inputs:
        driven = i.links[0] if i.links[1] == linkage.fixed else i.links[1]
        found += _turning(sheet, driven, i.at) if i.kind == "angle" else _sliding(sheet, i.at)
    out = linkage.output
    if out and out != linkage.fixed and out not in [k for i in linkage.inputs for k in i.links]:
        pivot = _pivots(linkage, out)
        slide = next(
            (s.slide.name for s in sheet.sliding.values() if (s.slide.block, s.slide.on) == (out, linkage.fixed)),
            None,
        )
        found += _turning(sheet, out, pivot[0]) if pivot else _sliding(sheet, slide) if slide else []
    return tuple(found)


def _turning(sheet, link, pivot):
    """An arrow round a pin, starting beside the link; two heads unless the link goes right round."""
    linkage, px = sheet.cycle.linkage, sheet.px
    arm = next((linkage.points[p] - linkage.points[pivot] for p in linkage.links[link] if p != pivot), 1)
    full = sheet.cycle.goes_round(link)
    start = float(np.angle(arm)) + (0.3 if full else -0.6)
    mark = symbols.turn_arrow(0j, 32 * px, start, 1.1 if full else 1.2, px, both=not full)
    return [ride(sheet.cycle, f"motion:{link}", link, mark, spot=linkage.points[pivot], layer="motion")]


def _sliding(sheet, name):
    """A straight arrow with two heads beside a block."""
    s, px = sheet.sliding[name], sheet.px
    d = s.slide.direction
    lift = -22 * px * far_side(sheet.cycle, s.slide)
    mark = symbols.arrow(lift - 20 * px * d, lift + 20 * px * d, px, both=True)
    return [ride(sheet.cycle, f"motion:{s.slide.block}", s.slide.block, mark, spot=s.centre, layer="motion")]


def scale_bar(sheet) -> tuple:
    """A bar of a round length at the lower left."""
    length = round_length(0.22 * sheet.bounds.width)
    left = complex(sheet.bounds.left, sheet.bounds.bottom) + (14 + 12j) * sheet.px
    return symbols.scale_bar(left, length, length_text(length), sheet.px)


def fixed_pins(linkage) -> list:
    """The pins of the fixed link."""
    return [p for p in linkage.links[linkage.fixed] if p in pins(linkage)]
