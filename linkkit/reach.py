"""How far an input can go: the ranges in which the linkage assembles, and the one in which it is sketched."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .errors import LinkageError
from .motion import move
from .placing import sketched

GRID = 720


@dataclass(frozen=True)
class Reach:
    """The ranges of an input (radians or metres) in which a linkage assembles on the sketched side of each dyad.

    `round` is true where the input can turn all the way; then `ranges` is empty. `here` is the range that holds the
    sketch: the others can only be reached by taking the linkage apart. `dead_centres` are the ends of `here` at which
    the linkage, not a given span, stops the input.
    """

    ranges: list
    here: tuple
    round: bool
    dead_centres: np.ndarray

    def values(self, steps):
        """Evenly spaced values: of one turn without its end, or of the range here, both ends included."""
        if self.round:
            return np.arange(steps) * (2 * np.pi / steps)
        return np.linspace(*self.here, steps)


def reach(linkage, *, held=None, drive=None) -> Reach:
    """The ranges of one input in which the linkage assembles, found by halving to rounding.

    Raises
    ------
    LinkageError
        If it does not assemble anywhere.

    Examples
    --------
    >>> import linkkit as lk
    >>> reach(lk.four_bar(0.4, 0.1, 0.35, 0.25)).round
    True
    """
    motion = move(linkage, steps=GRID, held=held, drive=drive)
    i = next(i for i in linkage.inputs if i.name == motion.drive)
    turning = i.kind == "angle" and i.span is None
    if not motion.ok.any():
        raise LinkageError("the linkage cannot be assembled at any value of its input")
    if motion.ok.all() and turning:
        return Reach([], (0.0, 2 * np.pi), True, np.array([]))
    again = lambda values: move(linkage, values, held=held, drive=drive)  # noqa: E731
    ranges = _ranges(again, motion, turning)
    here = _holding(ranges, float(sketched(linkage, i)), turning)
    stops = [x for x in here if i.span is None or min(abs(x - end) for end in i.span) > 1e-12]
    return Reach(ranges, here, False, np.array(stops))


def _holding(ranges, start, turning):
    """The range that holds the sketch's value, or else the nearest one."""

    def away(span):
        middle, half = 0.5 * (span[0] + span[1]), 0.5 * (span[1] - span[0])
        off = start - middle
        return abs(np.angle(np.exp(1j * off)) if turning else off) - half

    return min(ranges, key=away)


def _ranges(again, motion, turning):
    ok, values = motion.ok, motion.input
    if turning:  # begin in a gap, so that no range runs over the end of the turn
        cut = int(np.argmin(ok))
        ok = np.append(np.roll(ok, -cut), False)
        values = np.concatenate([values[cut:], values[: cut + 1] + 2 * np.pi])
    edges = np.flatnonzero(np.diff(ok.astype(int)))
    ends = [_edge(again, values[n], values[n + 1], bool(ok[n])) for n in edges]
    ends = ([float(values[0])] if ok[0] else []) + ends + ([float(values[-1])] if ok[-1] else [])
    found = list(zip(ends[::2], ends[1::2], strict=True))
    return [_centred(*span) for span in found] if turning else found


def _centred(a, b):
    """A range of angles named so that its middle lies within half a turn of zero."""
    shift = 2 * np.pi * np.round((a + b) / (4 * np.pi))
    return float(a - shift), float(b - shift)


def _edge(again, low, high, first_ok):
    """The last assembled value between one that assembles and one that does not."""
    for _ in range(12):
        fine = np.linspace(low, high, 21)
        ok = again(fine).ok
        n = int(np.argmax(~ok)) if first_ok else int(np.argmax(ok))
        low, high = fine[max(n - 1, 0)], fine[n]
    return float(low if first_ok else high)
