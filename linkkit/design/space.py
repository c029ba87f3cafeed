"""What may be chosen: named dimensions with their ranges, and the linkage that they make."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from ..errors import LinkageError
from ..linkage import known
from ..quantity import real


class Space:
    """Named ranges; a range of one number is fixed."""

    def _keep(self, ranges):
        spans = {name: span_of(name, given) for name, given in ranges.items()}
        self.fixed = {name: low for name, (low, high) in spans.items() if low == high}
        free = {name: span for name, span in spans.items() if name not in self.fixed}
        if not free:
            raise LinkageError("nothing is free to choose: give at least one dimension a range, as (low, high)")
        self.names = tuple(free)
        self.low, self.high = (np.array([span[n] for span in free.values()]) for n in (0, 1))

    def columns(self, table):
        """A table of candidates, shape (n, names), as the entries that `build` takes."""
        return dict(zip(self.names, np.moveaxis(np.asarray(table), -1, 0), strict=True)) | self.fixed

    @property
    def first(self):
        """Candidates that are looked at before any is drawn: shape (n, names)."""
        return np.zeros((0, len(self.names)))

    @property
    def example(self):
        """Members of the space as a family, some of which may not close: for what does not hang on lengths."""
        table = np.linspace(self.low, self.high, 3)
        return self.build(**{name: np.broadcast_to(x, 3)[:, None] for name, x in self.columns(table).items()})

    def linkage(self, row):
        """The one linkage of a row of values."""
        return self.build(**{name: float(x) for name, x in self.columns(row).items()})


def span_of(name, given):
    """The least and the greatest value of what may be a number or a range (low, high)."""
    pair = np.atleast_1d(real(given, f"{name} must be a number, or a range (low, high)"))
    if pair.shape not in ((1,), (2,)) or pair[0] > pair[-1]:
        raise LinkageError(f"{name} must be a number, or a range (low, high) with the lower one first, not {given!r}")
    return float(pair[0]), float(pair[-1])


class Dimensions(Space):
    """The arguments of a builder, each a number or a range (low, high).

    Examples
    --------
    >>> import linkkit as lk
    >>> Dimensions(lk.four_bar, ground=0.4, crank=(0.05, 0.15), coupler=0.35, rocker=(0.2, 0.3)).names
    ('crank', 'rocker')
    """

    def __init__(self, build, **ranges):
        self.build = build
        self._keep(ranges)


@dataclass(frozen=True)
class _Line:
    """A slide whose line runs through two points of the sketch, or through one in a fixed direction."""

    through: str
    toward: str | None


class Sketch(Space):
    """Points of a sketch that may move; every length that hangs on them follows, and the circuit is as sketched.

    Parameters
    ----------
    linkage : Linkage
    free : dict of str to float or pair
        For each point that may move: metres to all sides, or ((x0, x1), (y0, y1)).

    Examples
    --------
    >>> import linkkit as lk
    >>> Sketch(lk.machine("crate-hoist"), {"D": 0.05}).names
    ('D.x', 'D.y')
    """

    def __init__(self, linkage, free):
        known(linkage)._know_points(*free)
        self.start, self.free = linkage, tuple(free)
        ranges = {}
        for point, given in free.items():
            spans = self._spans(point, given)
            ranges |= {f"{point}.{axis}": span for axis, span in zip("xy", spans, strict=True)}
        self._lines = {s.name: _line(linkage, s) for s in linkage.slides}
        self._keep(ranges)

    def _spans(self, point, given):
        if np.ndim(given) == 0:
            z, far = self.start.points[point], real(given, f"how far {point} may move must be in metres")
            return (z.real - far, z.real + far), (z.imag - far, z.imag + far)
        if len(given) != 2:
            raise LinkageError(f"{point} may move by a number of metres, or within ((x0, x1), (y0, y1))")
        return given

    @property
    def first(self):
        """The sketch itself, if the ranges hold it."""
        inside = ((self.here >= self.low) & (self.here <= self.high)).all()
        return self.here[None] if inside else super().first

    @property
    def here(self):
        """The values of the sketch itself."""
        places = {p: self.start.points[p] for p in self.free}
        each = {f"{p}.x": z.real for p, z in places.items()} | {f"{p}.y": z.imag for p, z in places.items()}
        return np.array([each[name] for name in self.names])

    def build(self, **values):
        """The linkage with its points at these places, metres; arrays make a family."""
        moved = {p: values[f"{p}.x"] + 1j * np.asarray(values[f"{p}.y"]) for p in self.free}
        points = self.start.points | moved
        slides = tuple(self._slide(s, points) for s in self.start.slides)
        return replace(self.start, points=points, slides=slides)

    def _slide(self, s, points):
        line = self._lines[s.name]
        if line is None:
            return s
        start = points[line.through]
        if line.toward is None:
            return replace(s, through=start)
        along = points[line.toward] - start
        return replace(s, through=start, direction=along / np.abs(along))


def _line(linkage, s):
    """Which points of the sketch a slide's line hangs on."""
    on_it = [
        p
        for link in (s.on, s.block)
        for p in linkage.links[link]
        if abs((np.conj(s.direction) * (linkage.points[p] - s.through)).imag) < 1e-9
    ]
    if not on_it:
        return None
    through, *others = on_it
    apart = [p for p in others if abs(linkage.points[p] - linkage.points[through]) > 1e-9]
    if apart and (np.conj(s.direction) * (linkage.points[apart[0]] - linkage.points[through])).real < 0:
        return _Line(apart[0], through)
    return _Line(through, apart[0] if apart else None)
