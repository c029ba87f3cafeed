"""Change points: positions with all links of a chain in line, from which the motion can go on in more than one way.

There the root of a closed form touches zero without changing into an unassembled range, and the motion goes on
smoothly only if the root changes sign. The input values at which that happens are found once for a linkage and the
inputs that are held.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .breakdown import linkage_groups
from .linkage import is_family
from .placing import Places, places_at, sketched

TOUCH = 1e-10  # a gap (no unit) below this at its least is a change point: lengths equal to 1 part in 1e10
NEAR = 0.02  # a least gap nearer to zero than this on the grid is looked at more closely
HERE = 1e-6  # radians or extents: a position nearer than this to a change point is interpolated
STENCIL = 3e-3  # radians or extents: the step of that interpolation
AROUND = np.array([-3.0, -2.0, -1.0, 1.0, 2.0, 3.0])
MIDDLE = np.array([1.0, -6.0, 15.0, 15.0, -6.0, 1.0]) / 20  # the weights of Lagrange's formula for the middle
SLOPE = np.array([-1.0, 9.0, -45.0, 45.0, -9.0, 1.0]) / 60  # and of the slope there
STEPS = 360  # of the grid, over a turn
ROOTS = ("RRR", "RRP", "RPR")


@dataclass(frozen=True)
class Crossing:
    """Where the root of one group changes sign: values of the input, repeated every `period` (None: not repeated)."""

    at: np.ndarray
    period: float | None

    def between(self, low, high):
        """All its values from about `low` to about `high`, in order."""
        if self.period is None:
            return self.at
        first = np.floor((low - self.at.max()) / self.period) - 1
        turns = np.arange(first, np.ceil((high - self.at.min()) / self.period) + 2)
        return np.sort((self.at + self.period * turns[:, None]).ravel())

    @property
    def odd(self):
        """Whether the root stands the other way round after one period."""
        return self.period is not None and len(self.at) % 2 == 1


def flips_of(linkage, drive, inputs):
    """The places at the given inputs, every change point crossed smoothly, and the change points in their range."""
    crossings = {} if is_family(linkage) else crossings_of(linkage, drive, inputs)
    values = inputs[drive]
    if not crossings or not np.size(values):
        return places_at(linkage, inputs), ()
    start = _start(linkage, drive)
    places = places_at(linkage, inputs, _signs(crossings, start, values))
    near = _near(crossings, values, HERE)
    if near.any():
        _smooth(places, drive, crossings, start, near)
    return places, _within(crossings, values)


def crossings_of(linkage, drive, inputs) -> dict:
    """For each group with a root that changes sign: its number and its `Crossing`. Found once for a linkage."""
    kept = linkage.__dict__.setdefault("_change_points", {})
    held = {name: v for name, v in inputs.items() if name != drive} if len(inputs) > 1 else {}
    if any(map(np.ndim, held.values())):
        return {}
    key = (drive, *((name, float(v)) for name, v in held.items()))
    if key not in kept:
        kept[key] = _search(linkage, drive, dict(key[1:]))
    return kept[key]


def turns(linkage, drive, inputs) -> int:
    """The turns of the input after which the motion repeats: 1, or 2 and more where a root is met an odd number of times."""
    return 2 ** sum(crossing.odd for crossing in crossings_of(linkage, drive, inputs).values())


def places_of(linkage, drive, inputs, upto) -> Places:
    """The places of the first groups of a linkage, their change points crossed smoothly."""
    values = inputs[drive]
    crossings = {n: c for n, c in crossings_of(linkage, drive, inputs).items() if n < upto}
    signs = _signs(crossings, _start(linkage, drive), values) if crossings and np.size(values) else {}
    return Places(linkage, inputs, signs, upto=upto)


def tight_spots(linkage, drive, inputs, grid) -> np.ndarray:
    """Values of the input, within a grid, at which a group comes near the end of its reach or hardly gets there."""
    held, found = {k: v for k, v in inputs.items() if k != drive}, []
    with np.errstate(all="ignore"):
        crossings = crossings_of(linkage, drive, inputs)
        for number in _rooted(linkage):
            gap = _Gap(linkage, drive, held, crossings, number)
            for sign in (1.0, -1.0):
                found += [gap.least(low, high, sign) for low, high in _windows(sign * gap(grid), grid)]
    return np.array(found, dtype=float)


def _start(linkage, drive):
    return float(sketched(linkage, next(i for i in linkage.inputs if i.name == drive)))


def _within(crossings, values):
    low, high = np.min(values) - HERE, np.max(values) + HERE
    every = np.sort(np.concatenate([crossing.between(low, high) for crossing in crossings.values()]))
    every = every[(every >= low) & (every <= high)]
    return every[np.append(True, np.diff(every) > 1e-9)] if len(every) else every


def _signs(crossings, start, values):
    """For each group, -1 where an odd number of its crossings lies between the sketch and the position."""
    signs = {}
    for number, crossing in crossings.items():
        every = crossing.between(min(np.min(values), start), max(np.max(values), start))
        passed = np.searchsorted(every, values) - np.searchsorted(every, start)
        signs[number] = 1.0 - 2.0 * (passed % 2)
    return signs


def _rooted(linkage):
    """The numbers of the groups whose closed form has a root, up to the first that has no closed form."""
    for number, group in enumerate(linkage_groups(linkage)):
        if group.kind == "newton":
            return
        if group.kind in ROOTS:
            yield number


def _search(linkage, drive, held):
    low, high, period = _range(linkage, drive)
    found = {}
    for number in _rooted(linkage):
        rounds = 1 if period is None else round(period / (2 * np.pi))
        grid = low + np.arange(-1, STEPS * rounds + 2) * (high - low) / STEPS
        gap = _Gap(linkage, drive, held, found, number)
        at = [x for window in _windows(gap(grid), grid) if (x := gap.touch(*window)) is not None]
        if at:
            found[number] = Crossing(_once(np.array(at), low, period), period)
            period = period and period * (1 + found[number].odd)
    return found


def _range(linkage, drive):
    """The first and last input value of the grid, and the period of the motion: one turn, or none for a slide."""
    i = next(i for i in linkage.inputs if i.name == drive)
    if i.kind == "angle":
        return -0.3, 2 * np.pi - 0.3, 2 * np.pi
    start, far = _start(linkage, drive), 2 * _extent(linkage)
    span = i.span or (start, start)
    return min(span[0], start - far), max(span[1], start + far), None


def _extent(linkage):
    z = np.array(list(linkage.points.values()))
    return float(np.abs(z[:, None] - z).max())


def _once(at, low, period):
    """The same values in order, each only once and within one period."""
    at = np.sort(at if period is None else low + (at - low) % period)
    at = at[np.append(True, np.diff(at) > HERE)]
    seam = period is not None and len(at) > 1 and at[0] + period - at[-1] < HERE
    return at[:-1] if seam else at


def _windows(gap, grid):
    """Pairs of input values between which the gap has a least value near zero."""
    if not np.fmin.reduce(gap, initial=1.0) < NEAR:
        return
    inner = (gap[1:-1] <= gap[:-2]) & (gap[1:-1] <= gap[2:]) & (np.abs(gap[1:-1]) < NEAR)
    for n in np.flatnonzero(inner) + 1:
        yield grid[n - 1], grid[n + 1]


class _Gap:
    """How far one group is from the end of its reach, as a function of the driving input."""

    def __init__(self, linkage, drive, held, crossings, number):
        self.linkage, self.drive, self.held, self.number = linkage, drive, held, number
        self.crossings, self.start = {k: c for k, c in crossings.items() if k < number}, _start(linkage, drive)

    def __call__(self, values):
        signs = _signs(self.crossings, self.start, values) if self.crossings else {}
        places = Places(self.linkage, {self.drive: values} | self.held, signs, upto=self.number + 1)
        measure, given = places.limits[self.number]
        return np.broadcast_to(measure(*given), np.shape(values))

    def least(self, low, high, sign=1.0):
        """Where the gap is least between two values (or greatest, with the other sign)."""
        for _ in range(6):
            fine = np.linspace(low, high, 21)
            gap = sign * self(fine)
            if not np.isfinite(gap).any():
                break
            n = int(np.clip(np.nanargmin(gap), 1, 19))
            low, high = fine[n - 1], fine[n + 1]
        return 0.5 * (low + high)

    def touch(self, low, high):
        """Where the gap touches zero between two values; None if it does not, or goes on below zero."""
        at = self.least(low, high)
        if not abs(self(np.array([at]))[0]) < 1e3 * TOUCH:
            return None
        step = min(STENCIL, 0.25 * (high - low))
        root = np.sign(AROUND) * np.sqrt(np.maximum(self(at + step * AROUND), 0.0))  # straight through a touch
        at = at - step * (MIDDLE @ root) / (SLOPE @ root)
        return float(at) if abs(self(np.array([at]))[0]) < TOUCH else None


def near_change(linkage, drive, inputs, shape, within):
    """Where the driving input is nearer than `within` to a change point: bool array of that shape."""
    crossings, values = {} if is_family(linkage) else crossings_of(linkage, drive, inputs), inputs[drive]
    near = _near(crossings, values, within) if crossings and np.size(values) else np.False_
    return np.broadcast_to(near, shape)


def _near(crossings, values, within):
    near = np.zeros(np.shape(values), dtype=bool)
    for crossing in crossings.values():
        every = crossing.between(np.min(values), np.max(values))
        after = np.clip(np.searchsorted(every, values), 0, len(every) - 1)
        for n in (after, np.maximum(after - 1, 0)):
            near |= np.abs(every[n] - values) < within
    return near


def _smooth(places, drive, crossings, start, near):
    """Put the places at the marked positions in by symmetric interpolation from both sides, to sixth order."""
    linkage = places.linkage
    spots = np.atleast_1d(places.inputs[drive])[np.atleast_1d(near)]
    around = spots[:, None] + STENCIL * AROUND
    beside = Places(linkage, places.inputs | {drive: around}, _signs(crossings, start, around))
    for link in linkage.moving:
        z = places.anchor[link][0]
        w = np.broadcast_to(beside.carry(link, z), around.shape) @ MIDDLE
        u = np.broadcast_to(beside.u[link], around.shape) @ MIDDLE
        places.anchor[link] = (z, _put(places.anchor[link][1], near, w))
        places.u[link] = _put(places.u[link], near, u / np.abs(u))
    places.found = [places.carry(link, 0j) + places.u[link] for link in linkage.moving]
    for name, carriers in linkage.carriers.items():
        places.pins[name] = places.carry(carriers[0], linkage.shape(carriers[0], name))


def _put(value, near, new):
    full = np.array(np.broadcast_to(np.asarray(value, dtype=complex), near.shape))
    full[near] = new if near.ndim else new[0]
    return full
