"""Put labels where they hide nothing: each in turn takes the free place nearest to what it names.

Greedy placement over a few candidate positions, scored against sampled shapes and against the labels already
placed (the point-feature labelling problem; the greedy method with fixed positions is common practice in map
making).
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from .scene import Arc, Circle, Path, Text, flat
from .style import TEXT_PX

WIDE, HIGH = (
    0.64,
    1.15,
)  # of the text size: a generous mean letter width of the font, and the height of a line
STEP_PX = 5.0
HIDING, AWAY = 2.5, 0.12  # what hiding one sampled point costs, and each pixel away from what is named
_AROUND = tuple(cmath.rect(1, cmath.pi * k / 4) for k in (1, 3, 7, 5, 2, 0, 4, 6))

_ROUND = tuple((d, more) for more in (0.0, 9.0, 20.0, 32.0) for d in _AROUND)
_BESIDE = tuple((t, s, more) for more in (0.0, 10.0, 22.0) for t in (0.5, 0.38, 0.62, 0.27, 0.73) for s in (1j, -1j))


@dataclass(frozen=True)
class Wish:
    """A label that wants a place: the text, and (anchor, direction, gap in pixels) of each possible place.

    `turning` holds the directions (radians from the present one) that what is named turns through under its label.
    """

    name: str
    text: str
    places: Sequence
    role: str = "label"
    size: float = 1.0
    turning: tuple = ()


class Places(Sequence):
    """Places that are worked out when one is asked for: most are never, in a picture whose labels are placed already."""

    def __init__(self, *parts):
        self.parts = parts  # (rows, from a row to a place)

    def __len__(self):
        return sum(len(rows) for rows, _ in self.parts)

    def __getitem__(self, k):
        for rows, make in self.parts:
            if k < len(rows):
                return make(*rows[k])
            k -= len(rows)
        raise IndexError(k)

    def __add__(self, other):
        return Places(*self.parts, *other.parts)


def around(at, *, gap=9.0, rings=4) -> Places:
    """Places round a point, the slanting ones first, then further out."""
    return Places((_ROUND[: rings * len(_AROUND)], lambda d, more: (at, d, gap + more)))


def beside(start, end, *, gap=5.0) -> Places:
    """Places on both sides of a line, its middle first."""
    way = (end - start) / abs(end - start)
    return Places((_BESIDE, lambda t, side, more: (start + t * (end - start), way * side, gap + more)))


def place(wishes, seen, px, bounds=None, taken=(), astray=None) -> list:
    """The number of the place that each wish gets, in the order given.

    Parameters
    ----------
    wishes : sequence of Wish
    seen : sequence of (complex array, float)
        For each wish, points that should stay visible and what hiding one of them costs.
    px : machine units in a pixel
    bounds : Bounds, optional
        The labels should stay inside.
    taken : sequence of (centre, half size)
        Boxes of texts that are there already.
    astray : callable, optional
        From a wish, the centres of its possible places and half its size to what each costs for being nearer to
        something that it does not name.
    """
    halves = [half_size(wish.text, wish.size) * px for wish in wishes]
    places = [np.array(tuple(wish.places)).T for wish in wishes]  # anchors, directions, gaps
    spots = [_centre(some, half, px, wish.turning) for wish, some, half in zip(wishes, places, halves, strict=True)]
    costs = [
        HIDING * weight * _hidden(z, half, obstacles, px) + _straying(z, half, bounds) + _distance(some[2].real)
        for some, z, half, (obstacles, weight) in zip(places, spots, halves, seen, strict=True)
    ]
    if astray is not None:
        costs = [c + astray(*one) for c, one in zip(costs, zip(wishes, spots, halves, strict=True), strict=True)]
    chosen, placed = {}, {}
    for k in (*range(len(wishes)), *range(len(wishes))):  # once more, now that all the others are known
        others = [*taken, *(box for n, box in placed.items() if n != k)]
        chosen[k] = int(np.argmin(costs[k] + _crowding(spots[k], halves[k], others)))
        placed[k] = (spots[k][chosen[k]], halves[k])
    return [chosen[k] for k in range(len(wishes))]


def text_of(wish, number, px) -> Text:
    """The label of a wish, centred at the place of that number (the first one, if there is no such place now)."""
    where = wish.places[number if number < len(wish.places) else 0]
    spot = _centre(where, half_size(wish.text, wish.size) * px, px, wish.turning)
    return Text(complex(spot), wish.text, wish.role, size=wish.size, name=wish.name)


def boxes(shapes, px) -> list:
    """The boxes (centre, half size) of the texts among some shapes; a text that is turned is covered by several."""
    return [box for pieces in _texts(shapes, px) for box in pieces]


def _texts(shapes, px):
    """The boxes of each text."""
    return [_pieces(t, at + turn * t.at, px) for t, at, turn in flat(shapes) if isinstance(t, Text)]


def _pieces(text, at, px):
    half, along = half_size(text.text, text.size) * px, cmath.rect(1, text.turn)
    middle = at + {"start": 1, "middle": 0, "end": -1}[text.anchor] * half.real * along
    if abs(along.imag) < 0.05:
        return [(middle, half)]
    count = max(1, round(half.real / half.imag))
    spots = (middle + half.real * ((2 * k + 1) / count - 1) * along for k in range(count))
    return [(z, half.imag * (1 + 1j)) for z in spots]


def half_size(text, size=1.0) -> complex:
    """Half the width and half the height of a text, in pixels, as a complex number."""
    return TEXT_PX * size * (WIDE * len(text) + 1j * HIGH) / 2


def _centre(where, half, px, turning):
    """Where the middle of a label is, at a place or at an array of places."""
    at, d, gap = where
    gap = gap.real * px
    if not turning:
        return at + gap * d + half.real * d.real + 1j * half.imag * d.imag
    low, high = turning
    if high - low > math.pi:  # the label goes all round what it names, a little over its corners at times
        return at + (1.4 * gap + 0.9 * max(half.real, half.imag)) * d
    ways = [d * cmath.rect(1, turn) for turn in ((low, (low + high) / 2, high) if low < high else (low,))]
    corner = [half.real * abs(w.real) + half.imag * abs(w.imag) for w in ways]
    return at + (gap + np.maximum.reduce(corner)) * d


def _hidden(spots, half, obstacles, px):
    reach = half + (1 + 1j) * px
    low, high = (complex(f(spots.real), f(spots.imag)) for f in (np.min, np.max))
    obstacles = obstacles[_inside(obstacles - (low + high) / 2, (high - low) / 2 + reach)]  # all others are far away
    return _inside(obstacles[None, :] - spots[:, None], reach).sum(axis=1)


def _crowding(spots, half, taken):
    """What it costs to lie over other texts."""
    cost = np.zeros(len(spots))
    for other, other_half in taken:
        cost = cost + 400 * _inside(spots - other, half + other_half)
    return cost


def _distance(gaps):
    return AWAY * (gaps - gaps.min())


def _straying(spots, half, bounds):
    """What it costs to take a later place, or to leave the picture."""
    cost = 0.15 * np.arange(len(spots))
    if bounds is not None:
        cost = cost + 200 * outside(spots, half, bounds)
    return cost


def outside(spots, half, bounds):
    """Does a box, or each of several, reach beyond the bounds?"""
    x, y = spots.real, spots.imag
    across = (x - half.real < bounds.left) | (x + half.real > bounds.right)
    return across | (y - half.imag < bounds.bottom) | (y + half.imag > bounds.top)


def _inside(d, half):
    return (np.abs(d.real) < half.real) & (np.abs(d.imag) < half.imag)


def sample(shapes, px, *, coarse=1.0) -> np.ndarray:
    """Points every few pixels along the lines of all shapes (texts left out), as a complex array."""
    step = STEP_PX * coarse * px
    lines, rings = [], [np.zeros(0, complex)]
    for shape, at, turn in flat(shapes):
        if isinstance(shape, Path):
            lines.append(at + turn * np.array(shape.points + (shape.points[:1] if shape.closed else ())))
        elif not isinstance(shape, Text):
            rings.append(at + turn * _ring(shape, step))
    return np.concatenate([_along(lines, step), *rings])


def _ring(shape, step):
    start, sweep = (shape.start, shape.sweep) if isinstance(shape, Arc) else (0.0, 2 * np.pi)
    n = max(6, int(abs(sweep) * shape.radius / step))
    ring = shape.centre + shape.radius * np.exp(1j * np.linspace(start, start + sweep, n))
    return np.append(ring, shape.centre) if isinstance(shape, Circle) else ring


def _along(lines, step):
    """Points along each line at about equal steps, from its first to its last, whether it was drawn in many or two.

    All lines at once: they are laid end to end with a gap between, in which nothing is taken.
    """
    lines = [z[np.isfinite(z)] for z in lines]
    lines = [z for z in lines if z.size]
    if not lines:
        return np.zeros(0, complex)
    z, ends = np.concatenate(lines), np.cumsum([len(line) for line in lines])
    gaps = np.abs(np.diff(z))
    gaps[ends[:-1] - 1] = step
    reach = np.concatenate(([0.0], np.cumsum(gaps)))
    first = reach[np.concatenate(([0], ends[:-1]))]
    length = reach[ends - 1] - first
    many = 2 + (length / step).astype(int)
    number = np.arange(many.sum()) - np.repeat(np.cumsum(many) - many, many)
    at = np.repeat(first, many) + number * np.repeat(length / (many - 1), many)
    return np.interp(at, reach, z.real) + 1j * np.interp(at, reach, z.imag)


def clashes(scene) -> int:
    """How many sampled points of lines the texts of a scene hide, plus ten for each two texts that overlap."""
    obstacles, found = sample(scene.shapes, scene.px), _texts(scene.shapes, scene.px)
    hidden = sum(covered(z, half, obstacles) for pieces in found for z, half in pieces)
    return hidden + 10 * sum(any(over(box, b) for box in a) for k, a in enumerate(found) for b in found[:k])


def covered(z, half, points) -> int:
    """How many points a box hides."""
    return int(_inside(points - z, half).sum())


def over(box, taken) -> int:
    """How many other boxes a box lies over."""
    return sum(covered(box[0], box[1] + half, np.array([z])) for z, half in taken)


def distance(spots, half, points) -> np.ndarray:
    """How far boxes of half size `half` about `spots` are from the nearest of some points (0 if one lies inside)."""
    d = points[None, :] - spots[:, None]
    return np.hypot(np.maximum(abs(d.real) - half.real, 0), np.maximum(abs(d.imag) - half.imag, 0)).min(axis=1)
