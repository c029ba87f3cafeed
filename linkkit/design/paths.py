"""Path generation: four-bars whose coupler point passes given places, at given crank angles or at any.

For given lengths (in cranks) and crank angles the tracer is P = p + s e^(i theta) + w u(theta), with u the coupler's
unit vector: linear in the three complex numbers p, s, w that place the pivot, turn and scale the linkage, and put
the tracer on the coupler. So only the three ratios and the angles are searched, and the rest comes by linear least
squares (variable projection: G. H. Golub, V. Pereyra, SIAM J. Numer. Anal. 10 (1973) 413-432). Then everything is
refined together.
"""

from __future__ import annotations

import numpy as np

from ..errors import LinkageError
from ..motion import move
from ..quantity import real, spot, told_apart
from .checking import judge
from .four_bars import pinned_four_bar
from .limits import SLACK
from .result import Watch, ranked
from .space import span_of
from .tracing_bars import NAMES, Tracing, bars, turns_fully

CHUNK = 8192
LONGEST = 8.0  # cranks, and at least an eighth of one
STARTS = 12  # are refined for each design that is kept
# steps of least squares and the weight of an exceeded limit: for every start, and for those that are best then
ROUGH, FINE = (40, 30.0), (400, 1e4)
PIVOTS = ("ground", "frame", "x", "y")  # what fixes both pivots
SPARE = 1e-3  # of the path's size, by which a crank that is to turn fully clears its dead centres


def four_bar_for_path(
    places, *, timing=None, closed=False, pivots=None, limits=(), ranges=None, within=None, tries=100_000, keep=5, seed=0,
    progress=None, stop=None,
):  # fmt: skip
    """Four-bars whose coupler point P passes given places in order.

    Parameters
    ----------
    places : complex array
        Shape (n,), metres, n at least 3.
    timing : float array, optional
        The crank's turn at each place, radians from any start, rising or falling. If not given, the crank may turn by
        any amount from place to place, but only one way.
    closed : bool
        Whether the crank is to turn all the way round.
    pivots : (complex, complex), optional
        Where the crank's and the rocker's fixed pivots stand; anywhere, or within `ranges`, if not given.
    limits : sequence
        As for `search`, kept over the same range.
    ranges : dict of str to (float, float) or float, optional
        Bounds, or one value, in metres for "ground", "crank", "coupler", "rocker", the tracer "along" and "across" the
        coupler from the crank's pin, and the crank's pivot "x" and "y"; in radians for the ground's direction "frame".
    within : float, optional
        Metres by which a place may be missed; a hundredth of the places' extent if not given.
    tries, keep, seed, progress, stop
        As for `search`.

    Returns
    -------
    Designs
        `figures` gives the sum of squares and the largest distance; `values` the dimensions, and the crank's direction
        at each place as "crank 1", "crank 2" and so on.

    Examples
    --------
    >>> corner = np.array([0, 0.1, 0.2, 0.25 + 0.1j, 0.2 + 0.2j])
    >>> four_bar_for_path(corner, tries=4000, keep=1).best.good
    True
    """
    asked = _Asked(places, timing, closed, limits, dict(ranges or {}) | _pivots(pivots), within)
    watch = Watch(progress, stop)
    done, found = asked.looked(watch, int(tries), seed, STARTS * keep)
    if not found:
        raise LinkageError("no four-bar among the candidates passes near these places: try more, or wider ranges")
    return asked.finished(watch, found, keep, done, seed)


class _Asked:
    """What the path is to be."""

    def __init__(self, places, timing, closed, limits, ranges, within):
        self.places = known_places(places)
        self.steps = None if timing is None else _steps(timing, len(self.places))
        self.closed, self.limits = closed, tuple(limits)
        self.ranges = {name: span_of(name, given) for name, given in ranges.items()}
        if unknown := set(ranges) - set(NAMES):
            raise LinkageError(f"a range is for one of {', '.join(NAMES)}, not {unknown.pop()!r}")
        self.middle = self.places.mean()
        self.size = float(np.abs(self.places - self.middle).max())
        self.within = 0.02 * self.size if within is None else float(within)

    def looked(self, watch, tries, seed, most):
        """The best rows of all candidates, with their tracings."""
        draw, done, kept, number = np.random.default_rng(seed), 0, [], 0
        senses = (1.0, -1.0) if self.steps is None else (float(np.sign(self.steps[0])),)
        ways = [(sense, side) for sense in senses for side in (1.0, -1.0)]
        with watch:
            while done < tries and not watch.stopped:
                count = min(CHUNK, -(-tries // len(ways)), tries - done)
                some = self._chunk(draw, count, most, *ways[number % len(ways)])
                kept, number = sorted(kept + some, key=lambda c: c[0])[:most], number + 1
                done += count
                watch.told(done, tries, np.sqrt(kept[0][0]) / self.within if kept else np.inf, "looking")
        return done, [(tracing, row) for _, tracing, row in kept]

    def _chunk(self, draw, count, most, sense, side):
        """The best of some candidates of one sense and one circuit: (mean square, tracing, row)."""
        tracing = Tracing(self.places, None if self.steps is None else np.abs(self.steps), sense, side)
        ratios = np.exp(np.log(LONGEST) * draw.uniform(-1, 1, (3, count)))
        start, steps = draw.uniform(-np.pi, np.pi, count), self._timing(draw, count)
        if self.closed or steps.sum(axis=-1).min() > np.pi * 1.9:
            full = turns_fully(ratios[0], 1.0, ratios[1], ratios[2])
            ratios, start, steps = ratios[:, full], start[full], steps[full]
        theta = start[:, None] + np.concatenate([0 * steps[:, :1], sense * np.cumsum(steps, axis=-1)], axis=-1)
        error, rows = self._projected(theta, ratios[..., None], tracing.side)
        rows = np.column_stack([rows, start] + ([steps] if self.steps is None else []))
        error = np.where(np.isfinite(error), error + self._outside(rows), np.inf)
        best = np.argsort(error, kind="stable")[:most]
        return [(float(error[n]), tracing, rows[n]) for n in best if np.isfinite(error[n])]

    def _timing(self, draw, count):
        """The crank's steps between the places: as given, or between even ones and ones in step with the way."""
        if self.steps is not None:
            return np.broadcast_to(np.abs(self.steps), (count, len(self.steps)))
        way = np.abs(np.diff(self.places, append=self.places[:1] if self.closed else []))
        way = np.concatenate([[0.0], np.cumsum(way)]) / way.sum()
        even = np.linspace(0, 1, len(way))
        mixed, bump, phase = draw.random((count, 1)), draw.uniform(-0.13, 0.13, (count, 1)), draw.random((count, 1))
        at = mixed * way + (1 - mixed) * even
        at = at + bump * (np.sin(2 * np.pi * (at + phase)) - np.sin(2 * np.pi * phase))
        span = 2 * np.pi if self.closed else draw.uniform(0.15, 1.9 * np.pi, (count, 1))
        return np.maximum(np.diff(at)[:, : len(self.places) - 1], 1e-3) * span

    def _projected(self, theta, ratios, side):
        """The mean square miss of each candidate at its best size, place and tracer, and its row without the angles."""
        g, a, c = ratios
        pin, unit = bars(theta, g, 1.0, a, c, side)
        with np.errstate(all="ignore"):
            p, s, w = self._placed(g[:, 0], pin, unit)
            left = self.places - p[..., None] - s[..., None] * pin - w[..., None] * unit
            tracer = w / s * np.abs(s)
        size = np.abs(s)
        sizes = [size * x for x in (g[:, 0], 1.0, a[:, 0], c[:, 0])]
        rows = np.column_stack([*sizes, tracer.real, tracer.imag, np.angle(s), p.real, p.imag])
        return (np.abs(left) ** 2).mean(axis=-1), rows

    def _placed(self, ground, pin, unit):
        """The best pivot, size with turn, and tracer of each candidate; the tracer alone where both pivots are given."""
        y = self.places - self.middle
        if all(low == high for low, high in (self.ranges.get(name, (0, 1)) for name in PIVOTS)):
            span, turn, *at = (self.ranges[name][0] for name in PIVOTS)
            p, s = np.full(len(pin), complex(*at)), span / ground * np.exp(1j * turn)
            left = self.places - p[:, None] - s[:, None] * pin
            return p, s, (np.conj(unit) * left).mean(axis=-1)
        e, u = (z - z.mean(axis=-1, keepdims=True) for z in (pin, unit))
        on_e = _inner(e, u) / _inner(e, e).real
        rest = u - on_e[..., None] * e
        w = _inner(rest, y) / _inner(rest, rest).real
        s = _inner(e, y) / _inner(e, e).real - w * on_e
        return self.middle - s * pin.mean(axis=-1) - w * unit.mean(axis=-1), s, w

    def _outside(self, rows):
        """A square of metres for what lies outside the ranges."""
        off = np.zeros(len(rows))
        for name, (low, high) in self.ranges.items():
            x = rows[:, NAMES.index(name)]
            off += np.maximum(low - x, 0) + np.maximum(x - high, 0)
        return np.where(np.abs(rows[:, :6]).max(axis=-1) > 60 * self.size, np.inf, (0.05 * off) ** 2)

    def finished(self, watch, starts, keep, tried, seed):
        """The starts refined, moved, judged and ranked; those that came to the same linkage once."""
        rows = self._all_refined(watch, starts, *ROUGH)
        rows = self._all_refined(watch, rows[: 3 * keep], *FINE)
        return ranked(
            _different([self.design(*row) for row in rows]), keep=keep, tried=tried, stopped=watch.stopped, seed=seed
        )

    def _all_refined(self, watch, starts, most, weight):
        """The starts refined in so many steps, best first; as they are from where the search was stopped."""
        done = []
        with watch:
            for tracing, row in starts:
                if watch.stopped:
                    break
                row = tracing.refined(row, self.ranges, self.size, most=most, extra=self._excess(tracing, weight))
                done.append((tracing, row))
                watch.told(len(done), len(starts), min(self._miss(*d) for d in done) / self.within, "refining")
        return sorted(done + starts[len(done) :], key=lambda d: self._miss(*d))

    def _miss(self, tracing, row):
        """The root mean square of the misses; inf where the tracer does not come to every place."""
        return float(np.nan_to_num(np.sqrt(np.mean(np.abs(tracing.off(row)) ** 2)), nan=np.inf))

    def _excess(self, tracing, weight):
        """The limits as residuals of rows, with a full turn of the crank for a closed path; None if there are none."""
        parts = [self._not_round] * self.closed + [self._over_limits(tracing)] * bool(self.limits)
        return (lambda rows: weight * np.concatenate([part(rows) for part in parts], axis=-1)) if parts else None

    def _not_round(self, rows):
        """By how much the crank fails to turn fully, with a little to spare, in sizes of the path."""
        g, r, a, c = rows[:, :4].T
        short = np.stack([np.abs(a - c) - np.abs(g - r), g + r - a - c], axis=-1)
        return np.maximum(short / self.size + SPARE, 0.0)

    def _over_limits(self, tracing):
        def excess(rows):
            *pins, p = np.moveaxis(tracing.sketch(rows)[:, None], -1, 0)
            theta = self._range(tracing, rows)
            with np.errstate(all="ignore"):
                motion = move(pinned_four_bar(*pins, tracer=p), theta)
                found = [np.nan_to_num(np.asarray(limit.excess(motion)), nan=1.0) for limit in self.limits]
            return np.stack([np.broadcast_to(x, len(rows)) for x in found], axis=-1)

        return excess

    def _range(self, tracing, rows):
        """Directions of the crank over what is asked of it: shape (rows, 60)."""
        theta = tracing.angles(rows) + rows[:, 6:7]
        first, last = theta[:, :1], theta[:, :1] + 2 * np.pi if self.closed else theta[:, -1:]
        return first + (last - first) * np.linspace(0, 1, 60)

    def design(self, tracing, row):
        """One row as a design."""
        linkage = tracing.linkage(row)
        cranks = tracing.angles(row) + row[6]
        off = np.abs(move(linkage, cranks).point("P") - self.places)
        ends = (cranks[0], cranks[0] + 2 * np.pi) if self.closed else tuple(sorted((cranks[0], cranks[-1])))
        wrong = (
            () if np.abs(cranks[-1] - cranks[0]) < 2 * np.pi else ("order defect: the crank needs more than a turn",)
        )
        if not off.max() <= self.within:
            n = int(np.argmax(np.nan_to_num(off, nan=np.inf)))
            by = told_apart(off[n], self.within, form="g", digits=4)
            wrong += (f"P misses place {n + 1} by {by} m, and {self.within:.4g} m is allowed",)
        wrong += self._out_of_range(row)
        values = dict(zip(NAMES, row, strict=False)) | {f"crank {n}": x for n, x in enumerate(cranks, 1)}
        figures = {"sum of squares": f"{(off**2).sum():.6g} m2", "largest distance": f"{off.max():.4g} m"}
        design = judge(linkage, limits=self.limits, over=ends, values=values, figures=figures, defects=wrong)
        design.misses["path"] = float(off.max())
        error = float(np.sqrt(np.mean(off**2)) / self.within)
        return type(design)(**{**vars(design), "error": error if np.isfinite(error) else np.inf})

    def _out_of_range(self, row):
        """A sentence for each range that is not kept, as where a search was stopped before its refining."""
        found = [(n, row[NAMES.index(n)], *span, "rad" if n == "frame" else "m") for n, span in self.ranges.items()]
        return tuple(
            f"{name} is {x:.6g} {unit}, and {low:.6g} to {high:.6g} {unit} is allowed"
            for name, x, low, high, unit in found
            if not low - SLACK * self.size <= x <= high + SLACK * self.size
        )


def _pivots(given):
    """Two fixed pivots as ranges of one value."""
    if given is None:
        return {}
    given = np.atleast_1d(
        spot(given if np.ndim(given) == 0 else np.array(given), "pivots must be places x + iy in metres")
    )
    if given.shape != (2,) or given[0] == given[1]:
        raise LinkageError("pivots are two different places: the crank's and the rocker's")
    o, q = map(complex, given)
    return dict(zip(PIVOTS, (abs(q - o), float(np.angle(q - o)), o.real, o.imag), strict=True))


def known_places(places):
    """Places as a complex array, or a sentence."""
    places = np.asarray(places)
    if places.dtype.kind not in "iufc" or places.ndim != 1 or len(places) < 3 or not np.isfinite(places).all():
        raise LinkageError("a path is a row of at least three places, complex numbers x + iy in metres")
    if np.abs(places - places[0]).max() == 0:
        raise LinkageError("the places of a path lie apart from one another")
    return places.astype(complex)


def _steps(timing, count):
    timing = real(timing, "timing must be the crank's angles in radians")
    if np.shape(timing) != (count,):
        raise LinkageError(f"timing needs one crank angle for each of the {count} places")
    steps = np.diff(timing)
    if not (np.all(steps > 0) or np.all(steps < 0)):
        raise LinkageError("the crank's angles must rise, or fall, from place to place: it turns one way")
    return steps


def _inner(a, b):
    return (np.conj(a) * b).sum(axis=-1)


def _different(designs):
    """One of each linkage that was come to more than once."""
    kept = []
    for design in sorted(designs, key=lambda d: d.rank):
        sizes = np.array([design.values[n] for n in NAMES[:6]])
        others = (np.array([d.values[n] for n in NAMES[:6]]) for d in kept)
        if all(np.abs(sizes - other).max() > 1e-3 * np.abs(sizes).max() for other in others):
            kept.append(design)
    return kept
