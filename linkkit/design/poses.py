"""Guiding a body through two or three poses with a four-bar's coupler.

A pin of the body takes a place in each pose; a link that carries it turns about the centre of the circle through these
places. Seen from the body it is the other way round: the fixed pivot takes places, and the pin is their centre. So both
are one construction, a circle through three points; with two poses the centre may lie anywhere on a line.
Source: L. Burmester, Lehrbuch der Kinematik (1888), as in any text on synthesis.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ..errors import LinkageError
from ..motion import move
from ..quantity import real, spot
from .checking import judge
from .four_bars import coordinates, pinned_four_bar, side
from .result import Designs, Watch, ranked


@dataclass(frozen=True)
class Pose:
    """Where a body stands: the place `at` of its marked point (complex, metres) and its turn `angle`, radians."""

    at: complex
    angle: float = 0.0

    def __post_init__(self):
        object.__setattr__(self, "at", complex(spot(self.at, "the place of a pose must be x + iy in metres")))
        object.__setattr__(self, "angle", float(real(self.angle, "the angle of a pose must be in radians")))

    def place(self, z):
        """Where the body has the point z of its own axes."""
        return self.at + np.exp(1j * self.angle) * z

    def seen(self, z):
        """The place z of the plane in the body's own axes."""
        return (z - self.at) * np.exp(-1j * self.angle)


def centre(a, b, c):
    """The centre of the circle through three points: complex arrays; nan where they lie in a line.

    Examples
    --------
    >>> abs(centre(1, 1j, -1)) < 1e-12
    np.True_
    """
    x, y = np.asarray(b) - a, np.asarray(c) - a
    twice_area = (np.conj(x) * y).imag
    with np.errstate(all="ignore"):
        z = 1j * (y * np.abs(x) ** 2 - x * np.abs(y) ** 2) / (-2 * twice_area)
        return np.where(np.abs(twice_area) < 1e-12 * np.abs(x * y), np.nan, a + z)


def pole(one, two):
    """The point about which a body turns from one pose to another; without end where it does not turn."""
    turn = np.exp(1j * (two.angle - one.angle))
    if abs(turn - 1) < 1e-12:
        raise LinkageError("the body does not turn between these poses, so they have no pole")
    return (two.at - turn * one.at) / (1 - turn)


def pivot_for(poses, pin, *, along=0.0):
    """The fixed pivot of the link that carries a pin of the body (complex, in its own axes) through its poses.

    Three poses: the centre of the circle through the pin's places. Two: the point `along` metres from the middle
    between them, to the left of the way from the first to the second. The pin may be an array.

    Examples
    --------
    >>> abs(pivot_for([Pose(1), Pose(1j), Pose(-1)], 0)) < 1e-12
    np.True_
    """
    return _centre_of([pose.place(np.asarray(pin)) for pose in _known(poses)], along)


def pin_for(poses, pivot, *, along=0.0):
    """The pin of the body (in its own axes) that goes round a given fixed pivot through its poses; as `pivot_for`.

    Examples
    --------
    >>> poses = [Pose(1), Pose(1j, 1.5), Pose(-1, 2.0)]
    >>> abs(pivot_for(poses, pin_for(poses, 0.5j)) - 0.5j) < 1e-12
    np.True_
    """
    return _centre_of([pose.seen(np.asarray(pivot)) for pose in _known(poses)], along)


def _centre_of(places, along):
    if len(places) == 3:
        return centre(*places)
    way = places[1] - places[0]
    return 0.5 * (places[0] + places[1]) + 1j * way / np.abs(way) * along


def _known(poses):
    poses = tuple(poses)
    if len(poses) not in (2, 3) or not all(isinstance(p, Pose) for p in poses):
        raise LinkageError("a body is guided through two or three poses, each a Pose(at, angle)")
    return poses


def four_bar_for_poses(
    poses, *, pins=None, pivots=None, limits=(), reach=None, tries=20_000, keep=5, seed=0, progress=None, stop=None
) -> Designs:
    """Four-bars whose coupler carries a body through two or three poses.

    Parameters
    ----------
    poses : sequence of Pose
        In the order in which they are to be passed.
    pins : (complex, complex), optional
        The two moving pins in the body's own axes, the crank's first; their pivots are found.
    pivots : (complex, complex), optional
        The two fixed pivots in the plane; the moving pins are found. With neither, pins near the body are tried.
    limits : sequence
        As for `search`; kept over the range of the crank from the first pose to the last.
    reach : float, optional
        How far from the body's marked point pins are tried, metres; what the poses span if not given.
    tries, keep, seed, progress, stop
        As for `search`. With three poses and given pins or pivots there is one answer and nothing is tried.

    Returns
    -------
    Designs
        Each is sketched in the first pose; P is the body's marked point. Defects say where the poses lie on two
        branches, are passed out of order, or cannot be reached without taking the linkage apart.

    Examples
    --------
    >>> poses = [Pose(0.1 + 0.2j, 0.0), Pose(0.2 + 0.25j, -0.2), Pose(0.3 + 0.2j, -0.5)]
    >>> found = four_bar_for_poses(poses, pins=(-0.05, 0.06 + 0.02j)).best
    >>> bool(found.misses["pose 3"] < 1e-9)
    True
    """
    poses = _known(poses)
    if pins is not None and pivots is not None:
        raise LinkageError("give the moving pins or the fixed pivots, not both: either pair fixes the other")
    watch = Watch(progress, stop)
    a, b, o, q = _candidates(poses, pins, pivots, reach, int(tries), seed)
    good = np.isfinite(a + b + o + q)
    if not good.any():
        raise LinkageError("the places of a pin lie in one straight line: no link of finite length can carry it")
    made = []
    with watch:
        for n in _promising(poses, a, b, o, q, good)[: 6 * keep]:
            made.append(_guide(poses, limits, *(complex(x[n]) for x in (a, b, o, q))))
            watch.told(len(made), 6 * keep, made[-1].error, "checking")
            if watch.stopped:
                break
    return ranked(made, keep=keep, tried=len(a), stopped=watch.stopped, seed=seed)


def _candidates(poses, pins, pivots, reach, tries, seed):
    """Moving pins a, b and fixed pivots o, q: arrays of equal length."""
    draw, given, find = np.random.default_rng(seed), pins if pivots is None else pivots, pivot_for
    span = reach or max(abs(p.at - poses[0].at) for p in poses) or 1.0
    one_answer = given is not None and len(poses) == 3
    if given is None:
        given = [span * _disc(draw, tries) for _ in "ab"]
    elif len(tuple(given)) != 2:
        raise LinkageError("pins and pivots come in twos: the crank's and the rocker's")
    count = 1 if one_answer else tries
    given = [np.broadcast_to(np.asarray(z, dtype=complex), (count,)) for z in given]
    if pivots is not None:
        find = pin_for
    along = [0.0 if len(poses) == 3 else span * draw.uniform(-3, 3, count) for _ in "ab"]
    found = [np.broadcast_to(find(poses, z, along=s), (count,)) for z, s in zip(given, along, strict=True)]
    return (*found, *given) if pivots is not None else (*given, *found)


def _disc(draw, count):
    return np.sqrt(draw.random(count)) * np.exp(2j * np.pi * draw.random(count))


def _promising(poses, a, b, o, q, good):
    """The candidates in order: on one branch, passed in order, then the best transmission angles and short links."""
    places = [(p.place(a), p.place(b)) for p in poses]
    with np.errstate(all="ignore"):
        sides = np.stack([side(pa, pb, q) for pa, pb in places])
        turned = np.stack([np.angle((pa - o) / (places[0][0] - o)) for pa, _ in places])
        sine = np.stack([((pa - pb) * np.conj(q - pb)).imag / np.abs((pa - pb) * (q - pb)) for pa, pb in places])
        size = np.abs(a - b) + np.abs(places[0][0] - o) + np.abs(places[0][1] - q) + np.abs(o - q)
    branch = (sides != sides[0]).any(axis=0)
    order = np.zeros_like(branch) if len(poses) == 2 else ~_monotonic(turned)
    worth = np.abs(sine).min(axis=0) - 0.05 * size / np.nanmedian(size[good])
    return np.lexsort((-np.nan_to_num(worth, nan=-9.0), order, branch, ~good))[: int(good.sum())]


def _monotonic(turned):
    """Whether the crank turns on one way, by less than a turn, from the first pose through the second to the third."""
    onward = np.mod(turned[1:], 2 * np.pi)
    back = np.mod(-turned[1:], 2 * np.pi)
    return (onward[0] < onward[1]) | (back[0] < back[1])


def _guide(poses, limits, a, b, o, q):
    """The four-bar in its first pose, moved through all of them and judged."""
    first = poses[0]
    linkage = pinned_four_bar(o, first.place(a), first.place(b), q, tracer=first.at, name="body guide")
    turned = np.array([np.angle((p.place(a) - o) / (first.place(a) - o)) for p in poses])
    start = float(np.angle(first.place(a) - o))
    ways = [np.mod(turned, 2 * np.pi), -np.mod(-turned, 2 * np.pi)]
    designs = [_judged(linkage, poses, limits, start, way) for way in ways]
    return min(designs, key=lambda d: (*d.rank, np.ptp(d.motion.input)))


def _judged(linkage, poses, limits, start, way):
    """One sense of turning of the crank, from the first pose through the others."""
    ends = start, start + way[np.argmax(np.abs(way))]
    places, angles = (np.array([getattr(p, what) for p in poses]) for what in ("at", "angle"))
    motion = move(linkage, start + way)
    off = np.abs(motion.point("P") - places)
    turns = np.abs(np.angle(motion.rotation("coupler") * np.exp(-1j * (angles - angles[0]))))
    wrong = () if (np.diff(np.abs(way)) > 0).all() else ("order defect: the crank passes the poses in another order",)
    wrong += _branch(off, turns, np.abs(places - places[0]).max())
    values = dict(zip(("crank from", "crank to"), map(float, ends), strict=True)) | coordinates(linkage)
    design = judge(linkage, limits=limits, over=tuple(sorted(ends)), values=values, defects=wrong)
    design.misses.update({f"pose {n}": float(x) for n, x in enumerate(off, 1)})
    return design


def _branch(off, turns, span):
    """The sentence for poses that the linkage passes on its other branch, and so not at all."""
    lost = [str(n) for n, (x, t) in enumerate(zip(off, turns, strict=True), 1) if not (x < 1e-7 * span and t < 1e-7)]
    return (f"branch defect: pose {' and '.join(lost)} lies on the other branch",) if lost else ()
