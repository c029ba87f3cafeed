"""Which labels a line diagram carries, and on what each of them rides."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from . import labels
from .scene import Group, Path, Text
from .skeleton import body_spots, pins, roles, stretches

MOMENTS, FIRST = 6, 5
SHORT_PX = 110.0
THIN = ("ghost", "path")  # layers whose lines matter less
CLEAR = 3  # times: hiding a text is worse than hiding a line
MISTAKEN, NEARER_PX, DISTANT = 1.5, 5.0, 0.2  # a pixel nearer to another link than to its own, and each away from it
COARSE = 2.0  # for a picture that moves, shapes are sampled this much more coarsely


def names(sheet, shapes, which, *, moving=False, places=None) -> tuple:
    """The labels of points and moving links, each put where it hides nothing, riding on what it names.

    `which` is True, "points" or "links"; `moving` looks for places that are good all round the cycle.
    `places`, a dict, remembers where each label was put: with it the next picture of a series puts them there
    without looking again.
    """
    wishes = _point_wishes(sheet) if which in (True, "points") else []
    places = {} if places is None else places
    wishes += _link_wishes(sheet, moving, places) if which in (True, "links") else ()
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
        chosen = labels.place(asked, seen, sheet.px, sheet.bounds, taken, _astray(sheet, shapes))
    else:
        lines = [_course(sheet, s) for s in shapes if s.layer != "path"]
        seen = [_seen_from(sheet, lines, wish) for wish in wishes]
        chosen = labels.place(asked, seen, sheet.px, sheet.bounds, taken)
        texts = [_course(sheet, _outline(sheet, *one)) for one in zip(wishes, chosen, strict=True)]
        seen = [_seen_from(sheet, lines + CLEAR * texts[:k] + CLEAR * texts[k + 1 :], w) for k, w in enumerate(wishes)]
        chosen = labels.place(asked, seen, sheet.px, sheet.bounds, taken, _astray(sheet, shapes))
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


def _astray(sheet, shapes):
    """What it costs a link's name to lie nearer to another link than to its own."""
    drawn = {}
    for s in shapes:
        if s.layer in ("link", "block") and s.link:
            drawn.setdefault(s.link, []).append(s)
    points = {k: labels.sample(own, sheet.px, coarse=3.0) for k, own in drawn.items()}

    def cost(wish, spots, half):
        link = wish.name.removeprefix("link:")
        if link == wish.name or len(points) < 2 or link not in points:
            return 0.0
        away = labels.distance(spots, half, points[link])
        other = labels.distance(spots, half, np.concatenate([z for k, z in points.items() if k != link]))
        return (MISTAKEN * np.maximum(0.0, away + NEARER_PX * sheet.px - other) + DISTANT * away) / sheet.px

    return cost


def _link_wishes(sheet, moving, places):
    """(wish, link, spot): a link's name keeps its place beside the link as the link turns; a block's stays upright."""
    play = roles(sheet.cycle.linkage)
    for k in sheet.cycle.linkage.moving:
        lines = stretches(sheet.cycle, k, sheet.sliding)
        small = not lines or abs(lines[0][1] - lines[0][0]) < 30 * sheet.px
        if moving and not small and f"turns:{k}" not in places:
            places[f"turns:{k}"] = _turns(sheet.cycle, k)
        turning = () if small else places[f"turns:{k}"] if moving else (0.0, 0.0)
        spot = body_spots(sheet.cycle, k, sheet.sliding)[0] if small else None
        wish = labels.Wish(f"link:{k}", k, _link_places(sheet, k, lines, spot), play[k], 0.9, turning)
        yield wish, k, spot


def _turns(cycle, link):
    """The directions that a link turns through, from the present one."""
    turn = cycle.turn(link)[cycle.ok] * np.conj(cycle.now(link)[1])
    angle = np.unwrap(np.angle(turn))
    return float(angle.min()), float(angle.max())


def _link_places(sheet, link, lines, spot):
    """Places beside the longest lines of a link, or round its block."""
    if spot is not None:
        return labels.around(sheet.cycle.now(link, spot)[0], gap=20.0)
    (p, q), *more = [[sheet.cycle.now(link, z)[0] for z in ends] for ends in lines[:2]]
    size = abs(q - p) / sheet.px
    beside = labels.beside(p, q)
    if more and abs(more[0][1] - more[0][0]) > SHORT_PX * sheet.px:
        beside += labels.beside(*more[0])
    # a name that is longer than its link may also lie off an end
    return beside + labels.around((p + q) / 2, gap=0.5 * size + 12.0) if size < SHORT_PX else beside


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
