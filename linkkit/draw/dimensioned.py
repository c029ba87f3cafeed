"""Dimensions of a line diagram: lengths and angles, each where its line crosses little and its text hides nothing."""

from __future__ import annotations

import numpy as np

from ..errors import LinkageError
from . import labels, symbols
from .units import direction_text, length_text

OFFSETS_PX, RADII_PX = (24.0, 38.0, 54.0), (34.0, 48.0, 24.0, 64.0)
CROSSING, CLOSE_PX, OTHER_SIDE, FURTHER = 0.4, 5.0, 3.0, 0.1  # what a close pair of points, a side, a pixel costs


def dimensions(sheet, wanted, shapes) -> tuple:
    """Lengths between pairs of points, and the angle from +x of links named, laid round the shapes that are there."""
    found = ()
    for item in sorted(wanted, key=lambda item: not isinstance(item, str)):  # angles have less room to choose from
        if isinstance(item, str):
            choices = _angles(sheet, item)
        elif len(item) == 2:
            choices = _lengths(sheet, *item)
        else:
            raise LinkageError(f"a dimension is a pair of points or the name of a link, not {item!r}")
        found += _best(sheet, choices, (*shapes, *found))
    return found


def _best(sheet, choices, shapes):
    """The cheapest of some (cost, shapes), given what is drawn already."""
    lines, taken = labels.sample(shapes, sheet.px), labels.boxes(shapes, sheet.px)
    costs = [cost + _in_the_way(sheet, made, lines, taken) for cost, made in choices]
    return choices[int(np.argmin(costs))][1]


def _in_the_way(sheet, made, lines, taken):
    own = labels.sample(made, sheet.px, coarse=2.0)
    close = (np.abs(own[:, None] - lines[None, :]) < CLOSE_PX * sheet.px).any(axis=1).sum()
    boxes = labels.boxes(made, sheet.px)
    hidden = sum(labels.covered(z, half, lines) for z, half in boxes)
    hidden += sum(labels.covered(z, half, own) for z, half in taken)
    over = sum(labels.over(box, taken) for box in boxes)
    beyond = any(labels.outside(*box, sheet.bounds) for box in boxes)
    return CROSSING * close + labels.HIDING * hidden + 100 * over + 100 * beyond


def _lengths(sheet, p, q):
    """A length on both sides of its line, near it and further off, its text in the middle or not."""
    linkage = sheet.cycle.linkage
    linkage._know_points(p, q)
    a, b = (sheet.cycle.now(linkage.carriers[n][0], linkage.points[n])[0] for n in (p, q))
    link = next((k for k, carried in linkage.links.items() if {p, q} <= set(carried)), None)
    free = 1.0 if _free_side(sheet, a, b, (p, q), link) else -1.0
    text = length_text(abs(b - a))
    room = abs(b - a) / sheet.px - 2 * labels.half_size(text, symbols.DIMENSION).real
    slides = (0.0, 0.3 * room, -0.3 * room) if room > 40 else (0.0,)
    return [
        (FURTHER * off + (side < 0) * OTHER_SIDE + 0.02 * abs(slide),
         symbols.dimension(a, b, text, sheet.px, offset=side * free * off, slide=slide))
        for side in (1, -1) for off in OFFSETS_PX for slide in slides
    ]  # fmt: skip


def _free_side(sheet, a, b, pair, link):
    """Whether the left of the line from a to b is the side with less of the machine."""
    cycle = sheet.cycle
    spots = np.array([cycle.now(cycle.linkage.carriers[p][0], z)[0] for p, z in cycle.linkage.points.items()])
    off = ((spots - a) * np.conj(b - a)).imag
    carried = set(cycle.linkage.links[link]) if link else ()
    own = off[[p in carried for p in cycle.linkage.points]]
    return float(own.sum() if np.abs(own).max(initial=0) > 1e-9 else off.sum()) <= 0


def _angles(sheet, link):
    """The angle of a link from +x, its arc and its text nearer to its corner or further off."""
    linkage = sheet.cycle.linkage
    linkage._know_links(link)
    carried = linkage.links[link]
    here, turn = sheet.cycle.now(link, linkage.points[carried[0]] if carried else 0j)
    angle = float(np.angle(turn * linkage.heading(link)))
    sweep, text = angle % (2 * np.pi), direction_text(angle)
    places = (sweep / 2, sweep / 3, 2 * sweep / 3, -0.5)
    return [
        (FURTHER * abs(radius - RADII_PX[0]) + k,
         symbols.angle_mark(here, 0.0, sweep, text, sheet.px, radius=radius, where=where))
        for radius in RADII_PX for k, where in enumerate(places)
    ]  # fmt: skip
