"""What kind of motion each link has: fixed-axis rotation, translation or combined motion, and how far it goes."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .errors import LinkageError
from .linkage import known
from .motion import move
from .reach import reach

GRID = 360
SAME = 1e-7  # radians, or of the extent: less than this is no movement; at a dead centre rounding makes 1e-8


@dataclass(frozen=True)
class LinkMotion:
    """How one link moves: its `kind`, whether it goes on turning (`continuous`), and its `extent` in `unit`."""

    link: str
    kind: str
    continuous: bool
    extent: float
    unit: str

    def __str__(self):
        if self.kind == "fixed":
            return "fixed"
        if self.continuous:
            return f"{self.kind}, continuous"
        if self.unit == "rad":
            return f"{self.kind}, oscillating through {np.degrees(self.extent):.1f} degrees"
        return f"{self.kind}, oscillating over {1000 * self.extent:.1f} mm"


def motion_kinds(linkage) -> dict:
    """The kind of motion of each link, over the whole range of every input.

    Returns
    -------
    dict of str to str
        ``"fixed"``, ``"fixed-axis rotation"``, ``"translation"`` or ``"combined motion"``.

    Examples
    --------
    >>> import linkkit as lk
    >>> motion_kinds(lk.slider_crank(0.05, 0.2))["rod"]
    'combined motion'
    """
    return {link: m.kind for link, m in link_motions(linkage).items()}


def link_motions(linkage) -> dict:
    """How each link moves, over the whole range of every input: {link: LinkMotion}.

    A rotation's extent is in radians (one turn if it is continuous), a translation's in metres: the longest distance
    between two places of one of its points. Combined motion gives the range of the link's angle.
    """
    if not known(linkage).inputs:
        raise LinkageError("the linkage has no input: say which pin is turned or which slide is pushed")
    moves = [_swept(linkage, i.name) for i in linkage.inputs]
    extent = max(np.abs(z).max() for z in linkage.points.values())
    return {link: _link_motion(link, moves, extent) for link in linkage.links}


def _swept(linkage, drive):
    """A motion over the whole range of an input, and whether it closes: goes round and begins again."""
    whole = reach(linkage, drive=drive)
    motion = move(linkage, whole.values(GRID * whole.turns), drive=drive)
    return motion, whole.round and bool(motion.ok.all())


def _link_motion(link, moves, extent):
    if link == moves[0][0].linkage.fixed:
        return LinkMotion(link, "fixed", False, 0.0, "rad")
    u = np.concatenate([m.rotation(link)[m.ok] for m, _ in moves])
    t = np.concatenate([m.place(link, 0j)[m.ok] for m, _ in moves])
    if np.abs(u - u[0]).max() < SAME:
        span = max(_widest(m.place(link, 0j)[m.ok], closes) for m, closes in moves)
        if span < SAME * extent:
            return LinkMotion(link, "fixed", False, 0.0, "m")
        return LinkMotion(link, "translation", False, span, "m")
    kind = "fixed-axis rotation" if _has_fixed_point(u, t, extent) else "combined motion"
    swing, continuous = _turned(link, moves)
    return LinkMotion(link, kind, continuous, swing, "rad")


def _widest(t, whole):
    """The longest distance between two places of a way, which closes if it is `whole`."""
    one = t[np.argmax(np.abs(t - t[0]))]
    far = t[np.argmax(np.abs(t - one))] - one
    directions = np.exp(1j * np.linspace(0, np.pi, 180, endpoint=False))
    directions = np.append(directions, far / abs(far)) if abs(far) > 0 else directions
    return max(_extent((np.conj(e) * t).real, whole) for e in directions)


def _extent(values, whole):
    """The range of a smooth function from evenly spaced values, its peaks rounded by parabolas."""
    if len(values) < 3:
        return float(np.ptp(values)) if len(values) else 0.0
    around = np.concatenate([values[-1:], values, values[:1]]) if whole else values
    before, here, after = around[:-2], around[1:-1], around[2:]
    bend, slope = before - 2 * here + after, 0.5 * (after - before)
    peak = (np.abs(slope) < np.abs(bend)) & (bend != 0)
    tops = here[peak] - 0.5 * slope[peak] ** 2 / bend[peak]
    ends = np.concatenate([values, tops])
    return float(ends.max() - ends.min())


def _has_fixed_point(u, t, extent):
    """Whether some point of the link stays where it is: t + u z = c at every position."""
    left = np.stack([u, -np.ones_like(u)], axis=1)
    found, *_ = np.linalg.lstsq(left, -t, rcond=None)
    return bool(np.abs(left @ found + t).max() < 1e-8 * extent)


def _turned(link, moves):
    """The greatest range of the link's angle, and whether it goes round and round."""
    swing, continuous = 0.0, False
    for m, closes in moves:
        angle = m.angle(link)
        angle = angle[np.isfinite(angle)]
        if closes and len(angle) > 2:
            closing = np.angle(np.exp(1j * (angle[0] - angle[-1])))
            continuous |= abs(angle[-1] + closing - angle[0]) > np.pi
        swing = max(swing, _extent(angle, closes and not continuous))
    return (2 * np.pi, True) if continuous else (swing, False)
