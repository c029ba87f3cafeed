"""Which labels a line diagram carries, and on what each of them rides."""

from __future__ import annotations

import numpy as np

from . import labels
from .scene import Group, Text
from .skeleton import body_spots, roles

MOMENTS = 6
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
    once = [] if moving else [(labels.sample(shapes, sheet.px), 1.0)] * len(wishes)
    seen = _all_round(sheet, shapes, wishes) if moving else once
    asked = [wish for wish, *_ in wishes]
    chosen = labels.place(asked, seen, sheet.px, sheet.bounds, labels.boxes(shapes, sheet.px))
    return dict(zip((wish.name for wish in asked), chosen, strict=True))


def _point_wishes(sheet):
    """(wish, link, sketch point that the label keeps its distance from)."""
    linkage, found = sheet.cycle.linkage, []
    for p, z in linkage.points.items():
        carrier = linkage.carriers[p][-1]
        places = labels.around(sheet.cycle.now(carrier, z)[0])
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
    return labels.beside(p, q)


def _all_round(sheet, shapes, wishes):
    """For each wish the points of all shapes at a few positions of the cycle, as seen from what the label rides on."""
    cycle = sheet.cycle
    moments = np.flatnonzero(cycle.ok)
    moments = moments[np.linspace(0, len(moments), MOMENTS, endpoint=False).astype(int)]
    spots = np.concatenate([_course(cycle, s, sheet.px, moments) for s in shapes if s.layer != "path"], axis=1)
    return [(_seen_from(cycle, spots, moments, link, z), 1.0 / len(moments)) for _, link, z in wishes]


def _course(cycle, shape, px, moments):
    """The sampled points of one shape or group at each moment: complex array (moments, points)."""
    if not (isinstance(shape, Group) and shape.link):
        still = labels.sample((shape,), px, coarse=COARSE)
        return np.broadcast_to(still, (len(moments), len(still)))
    local = labels.sample(shape.shapes, px, coarse=COARSE)
    turn = np.ones(len(moments)) if shape.upright else cycle.turn(shape.link)[moments]
    return cycle.place(shape.link, shape.spot)[moments][:, None] + turn[:, None] * local


def _seen_from(cycle, spots, moments, link, z):
    here, turn = cycle.now(link, z or 0j)
    there = cycle.place(link, z or 0j)[moments]
    back = 1 if z is not None else turn * np.conj(cycle.turn(link)[moments])[:, None]
    return (here + (spots - there[:, None]) * back).ravel()


def _label(sheet, text, link, spot):
    """A label as a group of its own that rides on the link, upright."""
    here, turn = sheet.cycle.now(link)
    if spot is None:
        spot = (text.at - here) * np.conj(turn)
    at = here + turn * spot
    local = Text(text.at - at, text.text, text.role, size=text.size, name=text.name)
    return Group(f"label:{text.name}", (local,), at, 1 + 0j, "label", link, spot, upright=True)
