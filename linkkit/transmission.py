"""The transmission angle of each chain: how squarely the coupler pushes its output.

It is the complement of the angle between the force that a frictionless coupler without mass exerts on the output and
the direction in which the output moves there. Ninety degrees is best; at 0 or 180 the output cannot be started.
For a four-bar it is the angle between coupler and output link (H. Alt, Werkstattstechnik 26, 1932).
"""

from __future__ import annotations

import numpy as np

from .breakdown import linkage_groups
from .dyads import dot


def angles(motion) -> list:
    """The transmission angle of each dyad, in the order of the breakdown: float arrays, radians from 0 to pi."""
    found = []
    with np.errstate(all="ignore"):
        for group in linkage_groups(motion.linkage):
            if group.kind in _COSINES:
                found.append(np.arccos(np.clip(_COSINES[group.kind](motion, group), -1, 1)))
    return found


def _rrr(motion, group):
    a, b, c = (_spot(motion, t) for t in group.ties)
    return dot(a - b, c - b) / (np.abs(a - b) * np.abs(c - b))


def _rrp(motion, group):
    a, b, slide = _spot(motion, group.ties[0]), _spot(motion, group.ties[1]), group.ties[2]
    return dot(a - b, 1j * _line(motion, slide)) / np.abs(a - b)


def _rpr(motion, group):
    a, c = _spot(motion, group.ties[0]), _spot(motion, group.ties[2])
    return dot(c - a, 1j * _line(motion, group.ties[1])) / np.abs(c - a)


def _prp(motion, group):
    return dot(_line(motion, group.ties[0]), _line(motion, group.ties[2]))


def _rpp(motion, group):
    return dot(_line(motion, group.ties[1]), _line(motion, group.ties[2]))


def _spot(motion, tie):
    return motion.place(tie.b, motion.linkage.shape(tie.b, tie.at))


def _line(motion, tie):
    slide = motion.linkage.slide(tie.at)
    return motion.rotation(slide.on) * slide.direction


_COSINES = {"RRR": _rrr, "RRP": _rrp, "RPR": _rpr, "PRP": _prp, "RPP": _rpp}


def extremes(again, motion, ranges):
    """The least and the greatest transmission angle over all chains, sharpened between positions; nan if none."""
    cycle = angles(motion)
    if not cycle:
        return (np.nan, np.nan)
    least = min(_sharpened(again, motion, n, angle, ranges, np.nanargmin) for n, angle in enumerate(cycle))
    greatest = max(_sharpened(again, motion, n, angle, ranges, np.nanargmax) for n, angle in enumerate(cycle))
    return float(least), float(greatest)


def _sharpened(again, motion, number, angle, ranges, pick):
    n = pick(angle)
    if np.ptp(angle[np.isfinite(angle)]) < 1e-12:
        return angle[n]
    step = motion.input[1] - motion.input[0]
    low, high = motion.input[n] - step, motion.input[n] + step
    if ranges:
        inside = [r for r in ranges if _within(again, motion.input[n], r)]
        if inside:
            shift = np.round((motion.input[n] - np.mean(inside[0])) / (2 * np.pi)) * 2 * np.pi if again.round else 0.0
            low, high = max(low, inside[0][0] + shift), min(high, inside[0][1] + shift)
    for _ in range(5):
        fine = np.linspace(low, high, 21)
        value = angles(again(fine))[number]
        best = pick(value) if np.isfinite(value).any() else 10
        low, high = fine[max(best - 1, 0)], fine[min(best + 1, 20)]
    return value[best]


def _within(again, value, span):
    shift = np.round((value - np.mean(span)) / (2 * np.pi)) * 2 * np.pi if again.round else 0.0
    return span[0] - 1e-9 <= value - shift <= span[1] + 1e-9
