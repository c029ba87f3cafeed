"""Which labels a line diagram carries, and on what each of them rides."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from . import labels
from .scene import Group, Path, Text
from .skeleton import body_spots, pins, roles

MOMENTS, FIRST = 6, 5
SHORT_PX = 110.0
THIN = ("ghost", "path")  # layers whose lines matter less
CLEAR = 3  # times: hiding a text is worse than hiding a line
COARSE = 2.0  # for a picture that moves, shapes are sampled this much more coarsely


def names(sheet, shapes, which, *, moving=False, places=None) -> tuple:
    """The labels of points and moving links, each put where it hides nothing, riding on what it names.

    `which` is True, "points" or "links"; `moving` looks for places that are good all round the cycle.
    `places`, a dict, remembers where each label was put: with it the next picture of a series puts them there
    without looking again.
    """
    wishes = _point_wishes(sheet) if which in (True, "points") else []
    wishes += _link_wishes(sheet, moving) if which in (True, "links") else []
    places = {} if places is None else places
    if not places.keys() >= {wish.name for wish, *_ in wishes}:
        places |= _choose(sheet, shapes, wishes, moving)
    texts = (labels.text_of(wish, places[wish.name], sheet.px) for wish, *_ in wishes)
    return tuple(_label(sheet, text, link, spot) for text, (_, link, spot) in zip(texts, wishes, strict=True))


def _choose(sheet, shapes, wishes, moving):
    asked, taken = [wish for wish, *_ in wishes], labels.boxes(shapes, sheet.px)
    if not moving:
        thin = [s for s in shapes if s.layer in THIN]
        seen = [labels.sample([s for s in shapes if s.layer not in THIN], sheet.px)]
        seen = [(np.concatenate([*seen, labels.sample(thin, sheet.px, coarse=3.0)]), 1.0)] * len(wishes)
        chosen = labels.place(asked, seen, sheet.px, sheet.bounds, taken)
    else:
        lines = [_course(sheet, s) for s in shapes if s.layer != "path"]
        seen = [_seen_from(sheet, lines, wish) for wish in wishes]
        chosen = labels.place(asked, seen, sheet.px, sheet.bounds, taken)
        texts = [_course(sheet, _outline(sheet, *one)) for one in zip(wishes, chosen, strict=True)]
        seen = [_seen_from(sheet, lines + CLEAR * texts[:k] + CLEAR * texts[k + 1 :], w) for k, w in enumerate(wishes)]
        chosen = labels.place(asked, seen, sheet.px, sheet.bounds, taken)
    return dict(zip((wish.name for wish in asked), chosen, strict=True))


def _outline(sheet, wish, number):
    """The box of a label as a body that rides where the label does."""
    text = labels.text_of(wish[0], number, sheet.px)
    half = labels.half_size(text.text, text.size) * sheet.px
    group = _label(sheet, text, *wish[1:])
    corners = (half, -half.conjugate(), -half, half.conjugate())
    return replace(group, shapes=(Path(tuple(group.shapes[0].at + c for c in corners), closed=True),))


def _point_wishes(sheet):
    """(wish, link, sketch point that the label keeps its distance from)."""
    linkage, turning, found = sheet.cycle.linkage, pins(sheet.cycle.linkage), []
    for p, z in linkage.points.items():
        carrier = linkage.carriers[p][-1]
        rings = max(0, turning.get(p, 0) - 2)
        places = labels.around(sheet.cycle.now(carrier, z)[0], gap=9.0 + 3.0 * rings)
        found.append((labels.Wish(f"point:{p}", p, places), carrier, z))
    return found


def _link_wishes(sheet, moving):
    """(wish, link, None): a link's name keeps its place beside the link as the link turns."""
    play = roles(sheet.cycle.linkage)
    return [
        (labels.Wish(f"link:{k}", k, link_places(sheet, k, moving), play[k], 0.9, moving), k, None)
        for k in sheet.cycle.linkage.moving
    ]


def link_places(sheet, link, moving):
    """Places beside the longest stretch of a link, or round its block."""
    spots = body_spots(sheet.cycle, link, sheet.sliding)
    pairs = [(abs(a - b), a, b) for k, a in enumerate(spots) for b in spots[:k]]
    size, *ends = max(pairs, key=lambda t: t[0], default=(0.0,))
    if size < 30 * sheet.px:
        return labels.around(sheet.cycle.now(link, spots[0])[0], gap=12.0 if moving else 20.0)
    p, q = (sheet.cycle.now(link, z)[0] for z in ends)
    short = size < SHORT_PX * sheet.px  # its name is longer than itself: it may also lie off an end
    return labels.beside(p, q) + (labels.around((p + q) / 2, gap=0.5 * size / sheet.px + 12.0) if short else ())


def _moments(cycle):
    """A few positions evenly over the cycle, and as often the one that is shown first."""
    usable = np.flatnonzero(cycle.ok)
    found = usable[np.linspace(0, len(usable), MOMENTS, endpoint=False).astype(int)].tolist()
    return found + FIRST * [cycle.start if cycle.moment is None else cycle.moment]


def _course(sheet, shape):
    """The sampled points of one shape or group at each of the moments: complex array (moments, points)."""
    cycle = sheet.cycle
    moments = _moments(cycle)
    if not (isinstance(shape, Group) and shape.link):
        still = labels.sample((shape,), sheet.px, coarse=COARSE)
        return np.broadcast_to(still, (len(moments), len(still)))
    local = labels.sample(shape.shapes, sheet.px, coarse=COARSE)
    turn = np.ones(len(moments)) if shape.upright else cycle.turn(shape.link)[moments]
    return cycle.place(shape.link, shape.spot)[moments][:, None] + turn[:, None] * local


def _seen_from(sheet, courses, wish):
    """Points of all shapes at the moments, as seen from what the label of a wish rides on, and what hiding one costs."""
    cycle, (_, link, z) = sheet.cycle, wish
    moments, spots = _moments(cycle), np.concatenate(courses, axis=1)
    here, turn = cycle.now(link, z or 0j)
    there = cycle.place(link, z or 0j)[moments]
    back = 1 if z is not None else turn * np.conj(cycle.turn(link)[moments])[:, None]
    return (here + (spots - there[:, None]) * back).ravel(), 1.0 / len(moments)


def _label(sheet, text, link, spot):
    """A label as a group of its own that rides on the link, upright."""
    here, turn = sheet.cycle.now(link)
    if spot is None:
        spot = (text.at - here) * np.conj(turn)
    at = here + turn * spot
    local = Text(text.at - at, text.text, text.role, size=text.size, name=text.name)
    return Group(f"label:{text.name}", (local,), at, 1 + 0j, "label", link, spot, upright=True)
