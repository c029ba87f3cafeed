"""The transmission angle of each chain: how squarely the coupler pushes its output.

It is the complement of the angle between the force that a frictionless coupler without mass exerts on the output and
the direction in which the output moves there. Ninety degrees is best; at 0 or 180 the output cannot be started.
For a four-bar it is the angle between coupler and output link (H. Alt, Werkstattstechnik 26, 1932).
"""

from __future__ import annotations

import numpy as np

from .breakdown import linkage_groups
from .dyads import cross, dot, square


def angles(motion) -> list:
    """The transmission angle of each dyad, in the order of the breakdown: float arrays, radians from 0 to pi."""
    found = []
    with np.errstate(all="ignore"):
        for group in linkage_groups(motion.linkage):
            if group.kind in _LINES:
                one, two = _LINES[group.kind](motion, group)
                found.append(np.arctan2(np.abs(cross(one, two)), dot(one, two)))
    return found


def sines(motion) -> list:
    """The sine of the transmission angle of each dyad: float arrays, quicker than the angles where only the least counts."""
    with np.errstate(all="ignore"):
        lines = [_LINES[g.kind](motion, g) for g in linkage_groups(motion.linkage) if g.kind in _LINES]
        return [np.sqrt(cross(one, two) ** 2 / (square(one) * square(two))) for one, two in lines]


def _rrr(motion, group):
    a, b, c = (_spot(motion, t) for t in group.ties)
    return a - b, c - b


def _rrp(motion, group):
    a, b, slide = _spot(motion, group.ties[0]), _spot(motion, group.ties[1]), group.ties[2]
    return a - b, 1j * _line(motion, slide)


def _rpr(motion, group):
    a, c = _spot(motion, group.ties[0]), _spot(motion, group.ties[2])
    return c - a, 1j * _line(motion, group.ties[1])


def _prp(motion, group):
    return _line(motion, group.ties[0]), _line(motion, group.ties[2])


def _rpp(motion, group):
    return _line(motion, group.ties[1]), _line(motion, group.ties[2])


def _spot(motion, tie):
    return motion.place(tie.b, motion.linkage.shape(tie.b, tie.at))


def _line(motion, tie):
    slide = motion.linkage.slide(tie.at)
    return motion.rotation(slide.on) * slide.direction


_LINES = {"RRR": _rrr, "RRP": _rrp, "RPR": _rpr, "PRP": _prp, "RPP": _rpp}


def extremes(again, motion):
    """The least and the greatest transmission angle over all chains, sharpened between positions; nan if none."""
    cycle = angles(motion)
    if not cycle:
        return (np.nan, np.nan)
    found = [_sharpened(again, motion, n, angle, pick) for n, angle in enumerate(cycle) for pick in PICKS]
    if len(motion.change_points):  # there the angle has a corner
        found += [angle[np.isfinite(angle)] for angle in angles(again(motion.change_points))]
    found = np.hstack(found)
    return float(found.min()), float(found.max())


PICKS = (np.nanargmin, np.nanargmax)


def _sharpened(again, motion, number, angle, pick):
    n = pick(angle)
    if len(angle) < 2 or np.nanmax(angle) - np.nanmin(angle) < 1e-12:
        return angle[n]
    step = motion.input[1] - motion.input[0]
    low, high = motion.input[n] - step, motion.input[n] + step
    if not again.period:
        low, high = max(low, again.whole.here[0]), min(high, again.whole.here[1])
    for _ in range(5):
        fine = np.linspace(low, high, 21)
        value = angles(again(fine))[number]
        best = pick(value) if np.isfinite(value).any() else 10
        low, high = fine[max(best - 1, 0)], fine[min(best + 1, 20)]
    return value[best]
