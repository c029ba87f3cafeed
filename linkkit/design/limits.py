"""What a linkage must not do. A limit is a plain value that measures by how much a motion exceeds it.

`excess` is 0 where the limit is kept, and grows without unit beyond it, for each member of a family; `words` says so.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .. import transmission
from ..errors import LinkageError
from ..facts import four_bar_lengths, grashof
from ..quantity import told_apart

CLASSES = ("crank-rocker", "double-crank", "double-rocker", "rocker-crank", "triple-rocker")
SLACK = 1e-5  # a limit that is exceeded by less counts as kept: a search comes to it from outside


def beyond(value, low=None, high=None):
    """By how much a value lies outside its bounds."""
    under = 0.0 if low is None else np.maximum(low - value, 0.0)
    over = 0.0 if high is None else np.maximum(value - high, 0.0)
    return under + over


@dataclass(frozen=True)
class Transmission:
    """No transmission angle falls below `least` radians, nor rises above half a turn less as much.

    Examples
    --------
    >>> import linkkit as lk
    >>> from linkkit.design import judge
    >>> bar = lk.four_bar(0.4, 0.1, 0.35, 0.25)
    >>> judge(bar, limits=[Transmission(np.radians(45))]).defects
    ()
    """

    least: float

    def excess(self, motion):
        return beyond(self.smallest(motion), low=self.least)

    def smallest(self, motion):
        """The least angle of a motion, folded, for each member of a family."""
        found = [np.arcsin(np.minimum(sine.min(axis=-1), 1.0)) for sine in transmission.sines(motion)]
        return np.min(np.broadcast_arrays(*found), axis=0) if found else np.pi / 2

    def words(self, motion):
        least, found = np.degrees(self.least), np.degrees(self.smallest(motion))
        return (
            f"the transmission angle falls to {told_apart(found, least)} deg, and {least:.1f} deg is the least allowed"
        )


@dataclass(frozen=True)
class Grashof:
    """The four-bar is of one of Grashof's classes, such as "crank-rocker".

    Examples
    --------
    >>> import linkkit as lk
    >>> from linkkit.design import judge
    >>> bar = lk.four_bar(0.4, 0.1, 0.35, 0.25)
    >>> judge(bar, limits=[Grashof("double-crank")]).defects
    ('it is a crank-rocker, and a double-crank is wanted',)
    """

    wanted: str

    def __post_init__(self):
        if self.wanted not in CLASSES:
            raise LinkageError(f"a class is one of {', '.join(CLASSES)}, not {self.wanted!r}")

    def excess(self, motion):
        sizes = np.stack(np.broadcast_arrays(*self._lengths(motion)))
        total, short, long = sizes.sum(axis=0), sizes.min(axis=0), sizes.max(axis=0)
        spare = (total - 2 * (short + long)) / total
        if self.wanted == "triple-rocker":
            return _flat(np.maximum(spare, 0.0), motion)
        shortest = sizes[("double-crank", "crank-rocker", "double-rocker", "rocker-crank").index(self.wanted)]
        return _flat(np.maximum(-spare, 0.0) + (shortest - short) / total, motion)

    def _lengths(self, motion):
        lengths = four_bar_lengths(motion.linkage)
        if lengths is None:
            raise LinkageError("Grashof's classes are for a linkage that is one four-bar with four turning pairs")
        return lengths

    def words(self, motion):
        return f"it is a {grashof(*self._lengths(motion))[0]}, and a {self.wanted} is wanted"


@dataclass(frozen=True)
class Length:
    """The distance between two points of one link lies between `low` and `high`, metres; None for no bound.

    Examples
    --------
    >>> import linkkit as lk
    >>> from linkkit.design import judge
    >>> bar = lk.four_bar(0.4, 0.1, 0.35, 0.25)
    >>> judge(bar, limits=[Length("O", "A", 0.2, 0.3)]).defects
    ('OA is 100 mm, and 200 mm to 300 mm is allowed',)
    """

    p: str
    q: str
    low: float | None = None
    high: float | None = None

    def excess(self, motion):
        length = motion.linkage.length(self.p, self.q)
        return _flat(beyond(length, self.low, self.high) / length, motion)

    def words(self, motion):
        ends = [None if x is None else 1000 * x for x in (self.low, self.high)]
        length = told_apart(
            1000 * motion.linkage.length(self.p, self.q), *(x for x in ends if x is not None), form="g", digits=4
        )
        low, high = (None if x is None else f"{x:.4g} mm" for x in ends)
        bound = f"{low} to {high}" if low and high else f"{low} or more" if low else f"{high} or less"
        return f"{self.p}{self.q} is {length} mm, and {bound} is allowed"


@dataclass(frozen=True)
class Lengths:
    """Every link is between `low` and `high` long, metres, from its first point to its second.

    Examples
    --------
    >>> import linkkit as lk
    >>> from linkkit.design import judge
    >>> bar = lk.four_bar(0.4, 0.1, 0.35, 0.25)
    >>> judge(bar, limits=[Lengths(0.05, 0.5)]).good
    True
    """

    low: float | None = None
    high: float | None = None

    def each(self, motion):
        """The same limit on each link."""
        ends = [carried[:2] for carried in motion.linkage.links.values() if len(carried) > 1]
        return [Length(*pair, self.low, self.high) for pair in ends]

    def excess(self, motion):
        return sum(limit.excess(motion) for limit in self.each(motion))

    def words(self, motion):
        return "; ".join(limit.words(motion) for limit in self.each(motion) if limit.excess(motion) > SLACK)


@dataclass(frozen=True)
class Room:
    """Some points stay, all the time, within a range of x and of y (metres; None for no bound).

    Examples
    --------
    >>> import linkkit as lk
    >>> from linkkit.design import judge
    >>> bar = lk.four_bar(0.4, 0.1, 0.35, 0.25)
    >>> judge(bar, limits=[Room("A", y=(0, None))]).defects
    ('A leaves its room by 100 mm',)
    """

    points: tuple
    x: tuple = (None, None)
    y: tuple = (None, None)

    def excess(self, motion):
        size = sum(b - a for a, b in (self.x, self.y) if a is not None and b is not None) or 1.0
        return sum(self._off(motion, p) for p in self._names) / size

    @property
    def _names(self):
        return (self.points,) if isinstance(self.points, str) else self.points

    def _off(self, motion, name):
        z = motion.point(name)
        return (beyond(z.real, *self.x) + beyond(z.imag, *self.y)).max(axis=-1)

    def words(self, motion):
        out = [(p, self._off(motion, p)) for p in self._names]
        return "; ".join(f"{p} leaves its room by {1000 * off:.4g} mm" for p, off in out if off > SLACK)


def _flat(value, motion):
    """One value for each member of a family, without the axis of the cycle."""
    value = np.asarray(value)
    return value[..., 0] if value.ndim and value.ndim == len(motion.shape) else value


__all__ = ["Grashof", "Length", "Lengths", "Room", "Transmission"]
