"""What a picture needs to know of a motion: where each link lies over the cycle, and at the moment shown."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from ..errors import LinkageError
from ..linkage import Linkage

STEPS = 360


@dataclass(frozen=True)
class Cycle:
    """The positions of a linkage: link k carries its sketch point z to ``origin(k) + turn(k) * z``.

    `motion` is None for a linkage that cannot be moved; `moment` is the index shown, None for the sketch
    itself.
    """

    linkage: Linkage
    motion: object
    moment: int | None

    @cached_property
    def ok(self) -> np.ndarray:
        """Which positions of the cycle are assembled."""
        return np.ones(1, bool) if self.motion is None else np.atleast_1d(self.motion.ok)

    @cached_property
    def input(self) -> np.ndarray:
        """The input over the cycle (radians or metres)."""
        return np.zeros(1) if self.motion is None else np.atleast_1d(self.motion.input)

    @property
    def kind(self) -> str:
        """The kind of the input that drives: "angle" or "distance"; empty if nothing does."""
        return "" if self.motion is None else next(i.kind for i in self.linkage.inputs if i.name == self.motion.drive)

    @cached_property
    def _frames(self):
        return {}

    def _frame(self, link):
        if link not in self._frames:
            self._frames[link] = self._where(link)
        return self._frames[link]

    def _where(self, link):
        n = len(self.ok)
        if self.motion is None:
            return np.zeros(n, complex), np.ones(n, complex)
        origin, turn = self.motion.place(link, 0j), self.motion.rotation(link)
        return np.broadcast_to(origin, (n,)), np.broadcast_to(turn, (n,))

    def turn(self, link) -> np.ndarray:
        """The unit complex number that turns the link's sketch to its present direction, over the cycle."""
        return self._frame(link)[1]

    def origin(self, link) -> np.ndarray:
        """Where the origin of the link's sketch lies, over the cycle."""
        return self._frame(link)[0]

    def place(self, link, z) -> np.ndarray:
        """Where the sketch point z of the link lies, over the cycle (nan where it is not assembled)."""
        origin, turn = self._frame(link)
        return origin + turn * z

    def point(self, name) -> np.ndarray:
        """Where a named point lies, over the cycle."""
        return self.place(self.linkage.carriers[name][0], self.linkage.points[name])

    def now(self, link, z=0j, moment=None) -> tuple[complex, complex]:
        """Where the sketch point z of a link lies at the moment shown, and the turn of the link there."""
        k = self.moment if moment is None else moment
        if k is None:
            return complex(z), 1 + 0j
        return complex(self.place(link, z)[k]), complex(self.turn(link)[k])

    @cached_property
    def start(self) -> int:
        """The position of the cycle that is nearest to the sketch."""
        away = sum(np.abs(self.turn(k) - 1) + np.abs(self.place(k, 0j)) for k in self.linkage.moving)
        return int(np.argmin(np.where(self.ok, away, np.inf)))

    @cached_property
    def _spreads(self):
        return {}

    def spread(self, link) -> float:
        """How far a link turns from end to end over the cycle, radians: more than a turn if it goes round."""
        if link not in self._spreads:
            turn = self.turn(link)
            turn = turn if self.ok.all() else turn[self.ok]
            self._spreads[link] = float(np.ptp(np.unwrap(np.angle(turn)))) if len(turn) else 0.0
        return self._spreads[link]

    def goes_round(self, link) -> bool:
        """Whether a link turns right round."""
        count = int(self.ok.sum())
        return count > 1 and self.spread(link) > 2 * np.pi * (1 - 2 / count)

    @cached_property
    def whole_turn(self) -> bool:
        """Whether the input turns once round, assembled everywhere."""
        span = abs(self.input[-1] - self.input[0]) * len(self.input) / max(1, len(self.input) - 1)
        return self.kind == "angle" and bool(self.ok.all()) and span > 2 * np.pi - 1e-6


def cycle_of(what, at=None) -> Cycle:
    """The cycle of a motion, or of a linkage as its first input drives it.

    Parameters
    ----------
    what : Motion, Linkage or Cycle
    at : int, optional
        The position shown, an index into the cycle; without it the first assembled one, or the sketch of a
        linkage.

    Raises
    ------
    LinkageError
        If there is no such position, or the linkage is not assembled there.
    """
    if isinstance(what, Cycle):
        cycle = what if at is None else replace(what, moment=at)
    elif isinstance(what, Linkage):
        cycle = Cycle(what, _moved(what), at)
    else:
        cycle = Cycle(what.linkage, what, at if at is not None else _first(what))
    if cycle.moment is not None:
        _check(cycle)
    return cycle


def nearest(motion, input_value) -> int:
    """The index of the assembled position with the input nearest to a value (radians modulo a turn, or metres)."""
    gap = np.atleast_1d(motion.input) - input_value
    if next(i.kind for i in motion.linkage.inputs if i.name == motion.drive) == "angle":
        gap = np.angle(np.exp(1j * gap))
    return int(np.argmin(np.where(np.atleast_1d(motion.ok), np.abs(gap), np.inf)))


def _moved(linkage):
    """The whole cycle of a linkage; where it does not go right round, the range in which it is sketched."""
    from ..motion import move
    from ..reach import reach

    try:
        motion = move(linkage) if linkage.inputs else None
        return motion if motion is None or motion.ok.all() else move(linkage, reach(linkage).values(STEPS))
    except LinkageError:
        return None  # a sketch that cannot be moved can still be drawn


def _first(motion):
    return int(np.argmax(np.atleast_1d(motion.ok)))


def _check(cycle):
    n = len(cycle.ok)
    if not -n <= cycle.moment < n:
        raise LinkageError(f"the cycle has {n} positions, 0 to {n - 1}: there is no position {cycle.moment}")
    if not cycle.ok[cycle.moment]:
        raise LinkageError(f"the linkage is not assembled at position {cycle.moment}: choose one where .ok is True")
