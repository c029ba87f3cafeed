"""Put labels where they hide nothing: each in turn takes the free place nearest to what it names.

Greedy placement over a few candidate positions, scored against sampled shapes and against the labels already
placed (the point-feature labelling problem; the greedy method with fixed positions is common practice in map
making).
"""

from __future__ import annotations

import cmath
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


@dataclass(frozen=True)
class Wish:
    """A label that wants a place: the text, and (anchor, direction, gap in pixels) of each possible place."""

    name: str
    text: str
    places: tuple
    role: str = "label"
    size: float = 1.0
    turning: bool = False


def around(at, *, gap=9.0) -> tuple:
    """Places round a point, the slanting ones first, then further out."""
    return tuple((at, d, g) for g in (gap, gap + 9.0, gap + 20.0, gap + 32.0) for d in _AROUND)


def beside(start, end, *, gap=5.0) -> tuple:
    """Places on both sides of a line, its middle first."""
    way = (end - start) / abs(end - start)
    spots = [start + t * (end - start) for t in (0.5, 0.38, 0.62, 0.27, 0.73)]
    return tuple((z, way * side, g) for g in (gap, gap + 10.0, gap + 22.0) for z in spots for side in (1j, -1j))


def place(wishes, seen, px, bounds=None, taken=()) -> list:
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
    """
    halves = [half_size(wish.text, wish.size) * px for wish in wishes]
    spots = [
        np.array([_centre(p, half, px, wish.turning) for p in wish.places])
        for wish, half in zip(wishes, halves, strict=True)
    ]
    costs = [
        HIDING * weight * _hidden(z, half, obstacles, px) + _straying(z, half, bounds) + _distance(wish)
        for wish, z, half, (obstacles, weight) in zip(wishes, spots, halves, seen, strict=True)
    ]
    chosen, placed = {}, {}
    for k in (*range(len(wishes)), *range(len(wishes))):  # once more, now that all the others are known
        others = [*taken, *(box for n, box in placed.items() if n != k)]
        chosen[k] = int(np.argmin(costs[k] + _crowding(spots[k], halves[k], others)))
        placed[k] = (spots[k][chosen[k]], halves[k])
    return [chosen[k] for k in range(len(wishes))]


def text_of(wish, number, px) -> Text:
    """The label of a wish, centred at the place of that number."""
    spot = _centre(wish.places[number], half_size(wish.text, wish.size) * px, px, wish.turning)
    return Text(complex(spot), wish.text, wish.role, size=wish.size, name=wish.name)


def boxes(shapes, px) -> list:
    """The boxes (centre, half size) of the texts among some shapes."""
    texts = ((t, at + turn * t.at) for t, at, turn in flat(shapes) if isinstance(t, Text))
    return [(z, half_size(t.text, t.size) * px) for t, z in texts]


def half_size(text, size=1.0) -> complex:
    """Half the width and half the height of a text, in pixels, as a complex number."""
    return TEXT_PX * size * (WIDE * len(text) + 1j * HIGH) / 2


def _centre(where, half, px, turning):
    at, d, gap = where
    if turning:  # the label turns round what it names: keep it clear at every direction
        return at + (1.4 * gap * px + 0.9 * max(half.real, half.imag)) * d
    return at + gap * px * d + complex(half.real * d.real, half.imag * d.imag)


def _hidden(spots, half, obstacles, px):
    return _inside(obstacles[None, :] - spots[:, None], half + (1 + 1j) * px).sum(axis=1)


def _crowding(spots, half, taken):
    """What it costs to lie over other texts."""
    cost = np.zeros(len(spots))
    for other, other_half in taken:
        cost = cost + 400 * _inside(spots - other, half + other_half)
    return cost


def _distance(wish):
    gaps = np.array([gap for *_, gap in wish.places])
    return AWAY * (gaps - gaps.min())


def _straying(spots, half, bounds):
    """What it costs to take a later place, or to leave the picture."""
    cost = 0.15 * np.arange(len(spots))
    if bounds is not None:
        x, y = spots.real, spots.imag
        out = (x - half.real < bounds.left) | (x + half.real > bounds.right)
        cost = cost + 200 * (out | (y - half.imag < bounds.bottom) | (y + half.imag > bounds.top))
    return cost


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
    obstacles, found = sample(scene.shapes, scene.px), boxes(scene.shapes, scene.px)
    hidden = sum(int(_inside(obstacles - z, half).sum()) for z, half in found)
    pairs = ((a, b) for k, a in enumerate(found) for b in found[:k])
    return hidden + 10 * sum(int(_inside(np.array([a[0] - b[0]]), a[1] + b[1])[0]) for a, b in pairs)
