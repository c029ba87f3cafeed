"""How far an input can go: the ranges in which a linkage assembles, and the one in which it is sketched."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .change_points import tight_spots, turns
from .errors import LinkageError
from .linkage import is_family
from .motion import move
from .placing import sketched

GRID = 720
HALVINGS = 60


@dataclass(frozen=True)
class Reach:
    """The ranges of an input (radians or metres) in which a linkage assembles on the sketched side of each dyad.

    `round` is true where the input can turn all the way; then `ranges` is empty. `here` is the range that holds the
    sketch: the others can only be reached by taking the linkage apart. `dead_centres` are the ends of `here` at which
    the linkage, not a given span, stops the input. `turns` is the number of turns after which the motion repeats: one,
    but two where a change point is passed once in each turn (a kite).
    """

    ranges: list
    here: tuple
    round: bool
    dead_centres: np.ndarray
    turns: int = 1

    def values(self, steps):
        """Evenly spaced values: of the whole motion without its end, or of the range here, both ends included."""
        if self.round:
            return np.arange(steps) * (2 * np.pi * self.turns / steps)
        return np.linspace(*self.here, steps)


def reach(linkage, *, held=None, drive=None) -> Reach:
    """The ranges of one input in which the linkage assembles, found by halving to rounding.

    Raises
    ------
    LinkageError
        If it does not assemble anywhere, and for a family.

    Examples
    --------
    >>> import linkkit as lk
    >>> reach(lk.four_bar(0.4, 0.1, 0.35, 0.25)).round
    True
    """
    if is_family(linkage):
        raise LinkageError("how far an input can go is found for one linkage at a time, not for a family")
    again = lambda values: move(linkage, values, held=held, drive=drive)  # noqa: E731
    even = move(linkage, _window(linkage, drive), steps=GRID, held=held, drive=drive)
    i = next(i for i in linkage.inputs if i.name == even.drive)
    turning = i.kind == "angle" and i.span is None
    values = _grid(linkage, even, i, turning)
    motion = again(values)
    if not motion.ok.any():
        raise LinkageError(f"the linkage cannot be assembled at any value of its input{_off_its_span(linkage, i)}")
    if motion.ok.all() and turning:
        return Reach([], (0.0, 2 * np.pi), True, np.array([]), turns(linkage, even.drive, even.inputs))
    ranges = _ranges(again, motion, turning)
    here = _holding(ranges, float(sketched(linkage, i)), turning)
    if i.kind == "distance" and i.span is None and {*here} & {values[0], values[-1]}:
        raise LinkageError(f"input {i.name} can slide on without end: give it a span")
    stops = [x for x in here if i.span is None or min(abs(x - end) for end in i.span) > 1e-12]
    return Reach(ranges, here, False, np.array(stops))


def _off_its_span(linkage, i):
    """Where the sketch has an input whose span is of no use, in degrees or millimetres."""
    if i.span is None:
        return ""
    scale, unit = (180 / np.pi, "degrees") if i.kind == "angle" else (1000, "mm")
    low, high, start = (scale * float(x) for x in (*i.span, sketched(linkage, i)))
    return f" {i.name} from {low:.4g} to {high:.4g} {unit}; in the sketch it is {start:.4g} {unit}, so give it a span about that"


def _window(linkage, drive):
    """Values for a slide without a span, farther to both sides than its links can reach; None for other inputs."""
    i = next((i for i in linkage.inputs if drive in (None, i.name)), None)
    if i is None or i.kind == "angle" or i.span is not None:
        return None
    z = np.array(list(linkage.points.values()))
    far = 4 * np.abs(z[:, None] - z).max() + 4 * max(abs(s.through) for s in linkage.slides)
    return float(sketched(linkage, i)) + np.linspace(-far, far, 2 * GRID + 1)


def _grid(linkage, even, i, turning):
    """Even steps, the sketched value, and the values between at which the linkage only just assembles or does not."""
    start = float(sketched(linkage, i))
    values, low, high = even.input, np.min(even.input), np.max(even.input)
    if turning:
        start, values = start % (2 * np.pi), np.append(values, 2 * np.pi)
    spots = tight_spots(linkage, even.drive, even.inputs, values)
    more = np.append(spots, start)
    return np.unique(np.concatenate([even.input, more[(more >= low) & (more <= high)]]))


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
    ends = list(_edges(again, values, ok, edges)) if len(edges) else []
    ends = ([float(values[0])] if ok[0] else []) + ends + ([float(values[-1])] if ok[-1] else [])
    found = list(zip(ends[::2], ends[1::2], strict=True))
    return [_centred(*span) for span in found] if turning else found


def _centred(a, b):
    """A range of angles named so that its middle lies within half a turn of zero."""
    shift = 2 * np.pi * np.round((a + b) / (4 * np.pi))
    return float(a - shift), float(b - shift)


def _edges(again, values, ok, edges):
    """The last assembled value between each value and its neighbour, one of which assembles and one does not."""
    inside, outside = np.where(ok[edges], values[edges], values[edges + 1]), values[edges]
    outside = np.where(ok[edges], values[edges + 1], outside)
    for _ in range(HALVINGS):
        middle = 0.5 * (inside + outside)
        good = again(middle).ok
        inside, outside = np.where(good, middle, inside), np.where(good, outside, middle)
    return (float(x) for x in inside)
