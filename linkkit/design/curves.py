"""An index of coupler curves: which four-bars draw something like a sketched closed path.

A closed curve of unit pace is a sum of turning vectors a_k exp(2 pi i k s). Dropping a_0 forgets where it lies, dividing
by a_1 its size and direction, and shifting s until a_-1 is real and positive its start: so equal shapes have equal
descriptors, and near ones near ones. They are kept as half-precision numbers and searched by a k-d tree.
Source of the method: C. T. Zahn, R. Z. Roskies, IEEE Trans. Computers C-21 (1972) 269-281; D. A. Hoeltzel, W.-H. Chieng,
Pattern matching synthesis as an automated approach to mechanism design, ASME J. Mech. Des. 112 (1990) 190-199.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from zipfile import BadZipFile

import numpy as np

from ..errors import LinkageError
from .paths import _Asked, known_places
from .result import Designs, Watch
from .tracing_bars import Tracing, bars, turns_fully

COUNT, STEPS, HARMONICS, PART = 240_000, 96, 6, 250
TRACERS = 12  # on each four-bar
ORDERS = np.array([k for k in range(-HARMONICS, HARMONICS + 1) if k not in (0, 1)])
FORM = 2  # of the file; another one is built anew
LONGEST = 5.0
_loaded = {}  # file: its index


@dataclass(frozen=True, eq=False)
class CurveIndex:
    """Coupler curves by their shape.

    Attributes
    ----------
    bars : float32 array
        Shape (n, 5): ground, coupler, rocker in cranks, and the tracer along and across the coupler.
    shapes : float16 array
        Shape (n, 22): the descriptors.
    """

    bars: np.ndarray
    shapes: np.ndarray

    def __len__(self):
        return len(self.bars)

    @cached_property
    def tree(self):
        """The k-d tree of the shapes."""
        from scipy.spatial import cKDTree

        return cKDTree(self.shapes.astype(np.float32), balanced_tree=False, compact_nodes=False)

    def nearest(self, places, count=40):
        """The curves nearest in shape to a closed sketch: row numbers, distances, and whether mirrored, nearest first."""
        shape = descriptors(even_curve(places)[None], HARMONICS)[0]
        asked, mirrored = _variants(shape)
        far, rows = self.tree.query(np.array([_flat(v) for v in asked]), k=count)
        order = np.argsort(far, axis=None, kind="stable")
        which = np.unravel_index(order, far.shape)
        found = {}
        for variant, n in zip(*which, strict=True):
            found.setdefault((int(rows[variant, n]), mirrored[variant]), float(far[variant, n]))
            if len(found) == count:
                break
        return [(row, distance, mirror) for (row, mirror), distance in found.items()]

    def find(self, places, *, keep=10, refine=True, limits=(), within=None, progress=None, stop=None) -> Designs:
        """Four-bars whose point P draws a closed sketch, given as places in order.

        Parameters
        ----------
        places : complex array
            Shape (n,), metres, n at least 5; the last is joined to the first.
        keep : int
            How many designs.
        refine : bool
            Whether least squares follow, with the crank's angles free.
        limits, within, progress, stop
            As for `four_bar_for_path`.

        Returns
        -------
        Designs
        """
        places = known_places(places)
        if len(places) < 5:
            raise LinkageError("a closed sketch needs at least five places")
        asked, watch = _Asked(places, None, True, limits, {}, within), Watch(progress, stop)
        starts = [self._start(places, row, mirror) for row, _, mirror in self.nearest(places, 3 * keep)]
        if not refine:
            designs = sorted((asked.design(*start) for start in starts), key=lambda d: d.rank)
            return Designs(tuple(designs[:keep]), len(self))
        return asked.finished(watch, starts, keep, len(self), None)

    def _start(self, places, row, mirror):
        """A curve of the index laid on the sketch: the tracing and its row of numbers."""
        g, a, c, along, across = self.bars[row].astype(float)
        side, across = (-1.0, -across) if mirror else (1.0, across)
        theta = np.linspace(0, 2 * np.pi, 721)[:-1]
        pin, unit = bars(theta, g, 1.0, a, c, side)
        curve = pin + (along + 1j * across) * unit
        spots, fit = laid(places, curve)
        sense = 1.0 if np.angle(np.exp(1j * np.diff(theta[spots]))).sum() > 0 else -1.0
        steps = np.maximum(np.mod(sense * np.diff(theta[spots]), 2 * np.pi), 1e-3)
        size, frame = abs(fit[1]), np.angle(fit[1])
        numbers = [*(size * np.array([g, 1.0, a, c, along, across])), frame, fit[0].real, fit[0].imag]
        steps *= min(1.0, 1.98 * np.pi / steps.sum())
        return Tracing(places, None, sense, side), np.array([*numbers, theta[spots[0]], *steps])


def laid(places, curve):
    """Which samples of a closed curve the places fall on, in order, and the turn, scale and shift (p, s) that lay it there.

    Both are cut into equal parts of their length; the shift of one against the other, and the way round, that fit best
    are taken.
    """
    even, at = even_curve(places, 64, ends=True)
    sampled, index = even_curve(curve, 64, smooth=False, ends=True)
    best = (np.inf,)
    for back in (False, True):
        walked, where = (sampled[::-1], index[::-1]) if back else (sampled, index)
        for shift in range(64):
            z = np.roll(walked, -shift)
            fit, miss = similarity(z, even)
            if miss < best[0]:
                best = (miss, fit, np.roll(where, -shift))
    _, fit, where = best
    spots = where[np.round(at * 64).astype(int) % 64]
    return spots.astype(int) % len(curve), fit


def similarity(z, wanted):
    """The shift p and the factor s for which p + s z is nearest to other places, and the mean square that is left."""
    middle, goal = z.mean(), wanted.mean()
    s = np.vdot(z - middle, wanted - goal) / np.vdot(z - middle, z - middle).real
    return (goal - s * middle, s), float(np.mean(np.abs(goal + s * (z - middle) - wanted) ** 2))


def even_curve(places, count=256, *, smooth=True, ends=False):
    """A closed curve through places, sampled at equal parts of its length.

    With `ends`, also where the places lie along it: parts of the length for a smooth one, sample numbers for the other.
    """
    from scipy.interpolate import CubicSpline

    closed = np.append(places, places[0])
    way = np.concatenate([[0.0], np.cumsum(np.abs(np.diff(closed)))])
    if way[-1] == 0 or (np.diff(way) == 0).any():
        raise LinkageError("two places of a closed sketch that follow each other must differ")
    fine = way
    if smooth:
        fine = np.linspace(0, way[-1], 8 * count + 1)
        closed = CubicSpline(way, np.stack([closed.real, closed.imag], axis=-1), bc_type="periodic")(fine) @ [1, 1j]
    along = np.concatenate([[0.0], np.cumsum(np.abs(np.diff(closed)))])
    even = np.arange(count) * along[-1] / count
    found = np.interp(even, along, closed.real) + 1j * np.interp(even, along, closed.imag)
    if not ends:
        return found
    marks = np.interp(way[:-1], fine, along) / along[-1] if smooth else np.interp(even, along, np.arange(len(closed)))
    return found, marks


def descriptors(curves, harmonics):
    """The normalised harmonics of closed curves over their own length, integrated along the chords between samples.

    Parameters
    ----------
    curves : complex array
        Shape (n, steps).

    Returns
    -------
    complex array
        Shape (n, 2 harmonics - 1), for the orders -harmonics to harmonics without 0 and 1.
    """
    chord = np.roll(curves, -1, axis=-1) - curves
    part = np.abs(chord) / np.abs(chord).sum(axis=-1, keepdims=True)
    turn = np.exp(-2j * np.pi * (np.cumsum(part, axis=-1) - 0.5 * part))
    power, found = np.ones_like(turn), {}
    for k in range(1, harmonics + 1):
        power = power * turn
        each = chord * (1 - (np.pi * k * part) ** 2 / 6)  # the mean of the turning vector over a chord, to fourth order
        found[k] = (each * power).sum(axis=-1) / k
        found[-k] = -(each * np.conj(power)).sum(axis=-1) / k
    return _normal(found, harmonics)


def _normal(found, harmonics):
    """Harmonics with the greater of the first two at 1 and the other real and positive."""
    turned = np.abs(found[1]) < np.abs(found[-1])
    pick = lambda k: np.where(turned, found[-k], found[k])  # noqa: E731
    with np.errstate(all="ignore"):
        other = pick(-1) / pick(1)
        start = np.exp(0.5j * np.angle(other))  # exp(2 pi i shift)
        orders = [k for k in range(-harmonics, harmonics + 1) if k not in (0, 1)]
        return np.stack([pick(k) / pick(1) * start ** (k - 1) for k in orders], axis=-1)


def _variants(shape):
    """The same shape started half way round, its mirror image, and run the other way round."""
    half = np.where(ORDERS % 2 == 0, -1, 1)
    asked, mirrored = [], []
    for v in (shape, shape * half):
        asked += [v, np.conj(v)]
        mirrored += [False, True]
    back = _reversed(shape)
    for v in (back, back * half):
        asked += [v, np.conj(v)]
        mirrored += [False, True]
    return asked, mirrored


def _reversed(shape):
    """The descriptors of a curve run the other way, as if its smaller first harmonic were the greater."""
    found = {int(k): shape[n] for n, k in enumerate(ORDERS)} | {1: 1.0 + 0j}
    if abs(found[-1]) < 0.5:  # then the direction is never in doubt
        return shape
    swapped = {k: np.array([found[-k]]) for k in found}
    scale = swapped[1]
    start = np.exp(0.5j * np.angle(swapped[-1] / scale))
    return np.array([(swapped[int(k)] / scale * start ** (k - 1))[0] for k in ORDERS])


def _flat(shapes):
    """Complex descriptors as real numbers."""
    return np.concatenate([shapes.real, shapes.imag], axis=-1)


def build(count=COUNT, *, seed=0, progress=None, stop=None) -> CurveIndex:
    """Draw coupler curves of four-bars whose crank turns fully, and keep their shapes.

    Parameters
    ----------
    count : int
        How many curves.
    seed, progress, stop
        As for `search`.

    Examples
    --------
    >>> len(build(3000))
    3000
    """
    draw, watch, kept, done = np.random.default_rng(seed), Watch(progress, stop), [], 0
    while done < count and not watch.stopped:
        rows, shapes = _some(draw)
        kept.append((rows[: count - done], shapes[: count - done]))
        done += len(kept[-1][0])
        watch.told(done, count, np.inf, "drawing curves")
    return CurveIndex(*(np.concatenate(x) for x in zip(*kept, strict=True)))


def _some(draw):
    """Some curves: their bars and their shapes."""
    g, a, c = np.exp(np.log(LONGEST) * draw.uniform(-0.6, 1.0, (3, 40 * PART)))
    full = np.flatnonzero(turns_fully(g, 1.0, a, c))[:PART]
    g, a, c = (x[full, None] for x in (g, a, c))
    theta = np.arange(STEPS) * (2 * np.pi / STEPS)
    pin, unit = bars(theta, g, 1.0, a, c, 1.0)
    spread = draw.standard_normal((2, len(g), TRACERS, 1))
    tracer = 0.4 * a[..., None] + 0.8 * np.maximum(a, 1.0)[..., None] * (spread[0] + 1j * spread[1])
    curves = (pin + tracer * unit[:, None]).reshape(-1, STEPS)
    shapes = descriptors(curves, HARMONICS)
    wide = [np.broadcast_to(x, (len(g), TRACERS)) for x in (g, a, c)]
    rows = np.stack([x.ravel() for x in (*wide, tracer[..., 0].real, tracer[..., 0].imag)], axis=-1)
    good = np.isfinite(shapes).all(axis=-1) & (np.abs(shapes).max(axis=-1) > 1e-3)
    return rows[good].astype(np.float32), _flat(shapes[good]).astype(np.float16)


def cache_file() -> Path:
    """Where the index is kept: in the user's folder for caches."""
    from platformdirs import user_cache_path

    return user_cache_path("linkkit") / f"coupler-curves-{FORM}.npz"


def curve_index(*, path=None, count=COUNT, progress=None, stop=None) -> CurveIndex:
    """The index of coupler curves: read from the user's cache, or built there at the first call, in a minute or two.

    Parameters
    ----------
    path : path, optional
        Another file to keep it in.
    count : int
        How many curves a new one has.
    progress, stop
        As for `search`; a build that was stopped is not kept.
    """
    path = cache_file() if path is None else Path(path)
    if path not in _loaded:
        found = _read(path) or _built(path, count, progress, stop)
        if len(found) < count:
            return found
        _loaded[path] = found
    return _loaded[path]


def _read(path):
    """The index in a file; None if it is missing or spoilt."""
    try:
        with np.load(path) as kept:
            return CurveIndex(kept["bars"], kept["shapes"])
    except (OSError, ValueError, KeyError, EOFError, BadZipFile):
        return None


def _built(path, count, progress, stop):
    """A new index, kept in a file if it was not stopped."""
    found = build(count, progress=progress, stop=stop)
    if len(found) == count:
        path.parent.mkdir(parents=True, exist_ok=True)
        part = path.with_suffix(".part.npz")
        np.savez(part, bars=found.bars, shapes=found.shapes)
        part.replace(path)
    return found
