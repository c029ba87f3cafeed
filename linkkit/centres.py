"""Instant centres: of every two links the point at which they have one velocity; n links have n (n - 1) / 2.

The theorem of three centres: those of any three links lie on one line (S. Aronhold 1872, A. B. W. Kennedy 1886).
From the pairs, whose centres are seen, it finds others where two such lines cross. All are worked out from the
velocities here; the order in which the theorem finds them is given beside, as a student would construct them.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations

import numpy as np

from .rates import extent_of

FAR = 1e9  # extents of the linkage: a centre farther away counts as at infinity


@dataclass(frozen=True)
class Construction:
    """One centre found by the theorem: of the links `pair`, on the lines through two pairs of centres found before."""

    pair: tuple
    lines: tuple

    @property
    def text(self):
        """The step in words."""
        one, two = (" and ".join(f"({a}, {b})" for a, b in line) for line in self.lines)
        return f"({self.pair[0]}, {self.pair[1]}) lies where the line through {one} meets the line through {two}"


class InstantCentres:
    """The instant centres of a motion, arrays over the cycle.

    Attributes
    ----------
    links : tuple of str
    seen : tuple of pairs of links
        Those paired directly, whose centres are at their pin, or at infinity square to their slide.
    found : tuple of Construction
        The others in the order in which the theorem of three centres finds them.
    rest : tuple of pairs of links
        Those that the theorem does not find from the pairs; they are given from the velocities all the same.
    """

    def __init__(self, motion):
        moving = any(np.any(s) for s in motion.speeds.values())
        self.motion = motion if moving else motion.with_speed(1.0)
        self.links = tuple(motion.linkage.links)
        self.seen = tuple(p for p in combinations(self.links, 2) if motion.linkage.joined(*p))
        self.found, self.rest = _order(self)

    def between(self, a, b):
        """The centre of links a and b: complex array, metres; nan where it is at infinity or undefined."""
        pins = [at for at in self.motion.linkage.joined(a, b) if at in self.motion.linkage.points]
        if pins:
            return self.motion.point(pins[0])
        slip, turn, far = self._relative(a, b)
        with np.errstate(all="ignore"):
            return np.where(far, np.nan, 1j * slip / turn)[()]

    def at_infinity(self, a, b):
        """Where the centre of links a and b is at infinity (bool array): they slide, but do not turn, on each other."""
        if any(at in self.motion.linkage.points for at in self.motion.linkage.joined(a, b)):
            return np.zeros(self.motion.shape, dtype=bool)[()]
        slip, _, far = self._relative(a, b)
        return (far & (np.abs(slip) > 0))[()]

    def direction(self, a, b):
        """The direction of the centre where it is at infinity: a unit complex array, square to the sliding."""
        slides = [s for s in self.motion.linkage.slides if {s.block, s.on} == {a, b}]
        if slides:
            return 1j * self.motion.rotation(slides[0].on) * slides[0].direction
        slip, _, _ = self._relative(a, b)
        size = np.abs(slip)
        return np.divide(1j * slip, size, out=np.full(np.shape(slip), np.nan + 0j), where=size > 0)[()]

    def centrodes(self, a, b):
        """The path of the centre of a and b on each of them: two complex arrays, as places in the sketch, metres.

        The second rolls on the first without slipping while b moves against a.
        """
        z = self.between(a, b)
        return tuple(np.conj(self.motion.rotation(k)) * (z - self.motion.place(k, 0j)) for k in (a, b))

    def _relative(self, a, b):
        """The velocity of b against a at the origin, the angular velocity, and where that is as good as none."""
        slip = np.asarray(self.motion.velocity_at(b, 0j) - self.motion.velocity_at(a, 0j))
        turn = np.asarray(self.motion.angular_velocity(b) - self.motion.angular_velocity(a))
        spins = [np.abs(self.motion.angular_velocity(k)) for k in self.links]
        rounding = 1e-12 * np.nanmax(spins, initial=0.0)
        size = extent_of(self.motion.linkage)
        return slip, turn, (np.abs(turn) <= rounding) | (np.abs(slip) > FAR * size * np.abs(turn))


def instant_centres(motion) -> InstantCentres:
    """All instant centres of a motion.

    Where the motion has no speed, its driving input is taken to move; other inputs are held.

    Examples
    --------
    >>> import linkkit as lk
    >>> centres = instant_centres(lk.move(lk.four_bar(0.4, 0.1, 0.35, 0.25), [1.0]))
    >>> [step.pair for step in centres.found]
    [('ground', 'coupler'), ('crank', 'rocker')]
    """
    return InstantCentres(motion)


def _order(centres):
    """The constructions that the theorem allows, in order, and the pairs that it leaves."""
    known, made = set(centres.seen), []
    left = [p for p in combinations(centres.links, 2) if p not in known]
    while True:
        new = [step for pair in left if (step := _construction(centres, known, pair))]
        if not new:
            return tuple(made), tuple(left)
        made += new[:1]
        known.add(new[0].pair)
        left.remove(new[0].pair)


def _construction(centres, known, pair):
    lines = []
    for k in centres.links:
        through = tuple(p if p in known else p[::-1] for p in ((pair[0], k), (k, pair[1])))
        if k not in pair and set(through) <= known:
            lines.append(through)
    crossing = [two for two in combinations(lines, 2) if _cross(centres, *two)]
    return Construction(pair, crossing[0]) if crossing else None


def _cross(centres, one, two):
    """Whether two lines are different at some position, so that they cross in one place."""
    first, second = (_line(centres, line) for line in (one, two))
    if first is None or second is None:
        return first is not second
    (p, d), (q, e) = first, second
    lean = np.abs((np.conj(d) * e).imag)
    apart = np.abs((np.conj(d) * (q - p)).imag)
    return bool(np.nanmax(np.maximum(lean, apart / extent_of(centres.motion.linkage)), initial=0.0) > 1e-9)


def _line(centres, through):
    """A point of the line through two centres and its direction; None for the line at infinity."""
    far = [np.all(centres.at_infinity(*p)) for p in through]
    if all(far):
        return None
    if any(far):
        near, away = through[::-1] if far[0] else through
        return centres.between(*near), centres.direction(*away)
    p, q = (centres.between(*pair) for pair in through)
    gap = q - p
    with np.errstate(all="ignore"):
        return p, gap / np.abs(gap)
