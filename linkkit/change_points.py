"""Change points: positions with all links of a chain in line, from which the motion can go on in more than one way.

There the root of a closed form touches zero without changing into an unassembled range, and the motion goes on
smoothly only if the root changes sign. The input values at which that happens are found once for a linkage and the
inputs that are held.
"""

from __future__ import annotations

import numpy as np

from .breakdown import linkage_groups
from .linkage import is_family
from .placing import Places, places_at, sketched

TOUCH = 1e-10  # a gap (no unit) below this at its least is a change point: lengths equal to 1 part in 1e10
NEAR = 1e-3  # a least gap below this on the grid is looked at more closely
HERE = 1e-6  # radians or extents: a position nearer than this to a change point is interpolated
STENCIL = 2e-3
ROOTS = ("RRR", "RRP", "RPR")


def flips_of(linkage, drive, inputs):
    """The places at the given inputs, every change point crossed smoothly, and the change points in their range."""
    crossings = {} if is_family(linkage) else _crossings(linkage, drive, inputs)
    if not crossings:
        return places_at(linkage, inputs), ()
    start, values = _start(linkage, drive), inputs[drive]
    places = places_at(linkage, inputs, _signs(crossings, start, values))
    near = _near(crossings, values)
    if near.any():
        _smooth(places, drive, crossings, start, near)
    return places, _within(crossings, values)


def _start(linkage, drive):
    return float(sketched(linkage, next(i for i in linkage.inputs if i.name == drive)))


def _within(crossings, values):
    low, high = np.min(values) - HERE, np.max(values) + HERE
    every = np.concatenate([_repeated(c, low, high) for c in crossings.values()])
    return np.unique(np.round(every[(every >= low) & (every <= high)], 9))


def _repeated(found, low, high):
    """The crossings of one group over a range: a pin repeats them every turn."""
    points, period = found
    if period is None:
        return points
    turns = np.arange(np.floor((low - points.max()) / period) - 1, np.ceil((high - points.min()) / period) + 2)
    return np.sort((points + period * turns[:, None]).ravel())


def _signs(crossings, start, values):
    """For each group, -1 where an odd number of its crossings lies between the sketch and the position."""
    signs = {}
    for number, found in crossings.items():
        every = _repeated(found, min(np.min(values), start), max(np.max(values), start))
        passed = np.searchsorted(every, values) - np.searchsorted(every, start)
        signs[number] = 1.0 - 2.0 * (passed % 2)
    return signs


def _crossings(linkage, drive, inputs):
    """For each group with a root: the input values at which it changes sign, and their period."""
    if any(np.ndim(v) for name, v in inputs.items() if name != drive):
        return {}
    held = {name: float(v) for name, v in inputs.items() if name != drive}
    kept = linkage.__dict__.setdefault("_change_points", {})
    key = (drive, tuple(held.items()))
    if key not in kept:
        kept[key] = _search(linkage, drive, held)
    return kept[key]


def _search(linkage, drive, held):
    groups = linkage_groups(linkage)
    if any(group.kind == "newton" for group in groups):
        return {}
    span, period = _range(linkage, drive)
    grid, found = np.linspace(*span, 361), {}
    start = _start(linkage, drive)
    for number, group in enumerate(groups):
        if group.kind not in ROOTS:
            continue
        gap = _gap(linkage, drive, held, grid, found, start, number)
        points = [_touch(linkage, drive, held, found, start, number, *w) for w in _windows(gap, grid, period)]
        points = [p for p in points if p is not None]
        if points:
            found[number] = (np.unique(np.round(np.array(points), 12)), period)
    return found


def _range(linkage, drive):
    i = next(i for i in linkage.inputs if i.name == drive)
    if i.kind == "angle":
        return (
            -0.3,
            2 * np.pi - 0.3,
        ), 2 * np.pi  # begins off the usual places, so that no touch lies on the seam
    return (i.span or (_start(linkage, drive),) * 2), None


def _gap(linkage, drive, held, values, found, start, number):
    signs = _signs(found, start, values) if found else {}
    places = Places(linkage, {drive: values} | held, signs, upto=number + 1)
    measure, given = places.limits[number]
    return np.broadcast_to(measure(*given), np.shape(values))


def _windows(gap, grid, period):
    """Pairs of input values between which the gap has a small least value."""
    if np.fmin.reduce(gap) > NEAR or len(gap) < 3:
        return
    inner = np.flatnonzero((gap[1:-1] <= gap[:-2]) & (gap[1:-1] <= gap[2:]) & (np.abs(gap[1:-1]) < NEAR)) + 1
    for n in inner:
        yield grid[n - 1], grid[n + 1]


def _touch(linkage, drive, held, found, start, number, low, high):
    """The value at which the gap is least, if it is zero there; None if it is not, or goes on below zero."""
    for _ in range(6):
        fine = np.linspace(low, high, 21)
        gap = _gap(linkage, drive, held, fine, found, start, number)
        n = int(np.clip(np.nanargmin(gap), 1, 19))
        low, high = fine[n - 1], fine[n + 1]
    return 0.5 * (low + high) if abs(gap[n]) < TOUCH and np.nanmin(gap) > -TOUCH else None


def _near(crossings, values):
    near = np.zeros(np.shape(values), dtype=bool)
    for found in crossings.values():
        every = _repeated(found, np.min(values), np.max(values))
        n = np.clip(np.searchsorted(every, values), 1, len(every) - 1) if len(every) > 1 else 0
        for candidate in (n, n - 1 if len(every) > 1 else n):
            near |= np.abs(every[candidate] - values) < HERE
    return near


def _smooth(places, drive, crossings, start, near):
    """Put the places at the marked positions in by symmetric interpolation from both sides, to fourth order."""
    linkage = places.linkage
    values = np.asarray(places.inputs[drive])
    spots = np.atleast_1d(values)[np.atleast_1d(near)]
    around = spots[:, None] + STENCIL * np.array([-2.0, -1.0, 1.0, 2.0])
    beside = Places(linkage, places.inputs | {drive: around}, _signs(crossings, start, around))
    for link in linkage.moving:
        z = places.anchor[link][0]
        places.anchor[link] = (z, _put(places.anchor[link][1], near, _middle(beside.carry(link, z), around)))
        u = _middle(beside.u[link], around)
        places.u[link] = _put(places.u[link], near, u / np.abs(u))
    places.pins.clear()


def _middle(beside, around):
    p = np.broadcast_to(beside, around.shape)
    return (4 * (p[:, 1] + p[:, 2]) - (p[:, 0] + p[:, 3])) / 6


def _put(value, near, new):
    full = np.array(np.broadcast_to(np.asarray(value, dtype=complex), near.shape))
    full[near] = new if near.ndim else new[0]
    return full
