"""What a linkage should do. An aim is a plain value that measures a motion, of one linkage or of a whole family.

`miss` gives what is missed, in the aim's unit, over the last axis of a motion's arrays; `within` is the miss that still
counts as met, and so the weight of the aim among others. `between` keeps it to a part of the input's range.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import KW_ONLY, dataclass

import numpy as np

from ..dyads import dot
from ..quantity import told_apart

DEG, MM = np.pi / 180, 1e-3


@dataclass(frozen=True)
class Aim:
    """What all aims share."""

    def part(self, motion, array):
        """An array over the cycle, or the part of it that the aim looks at."""
        between = getattr(self, "between", None)
        if between is None:
            return array
        return array[..., (motion.input >= between[0]) & (motion.input <= between[1])]

    @property
    def name(self):
        """What the aim is called in tables."""
        called = re.sub(r"(?<=[a-z])(?=[A-Z])", " ", type(self).__name__).lower()
        return f"{called} {getattr(self, 'link', getattr(self, 'point', ''))}"

    def text(self, size, *unlike):
        """A size in the aim's unit, in words that differ from those for some others."""
        scale, unit = {"rad": (1 / DEG, "deg"), "m": (1 / MM, "mm")}.get(self.unit, (1, self.unit))
        return f"{told_apart(size * scale, *(x * scale for x in unlike), form='g', digits=4)} {unit}".strip()


def about_the_middle(array):
    """An array less the middle of its range over the last axis."""
    low, high = array.min(axis=-1, keepdims=True), array.max(axis=-1, keepdims=True)
    return array - 0.5 * (low + high)


def turned(motion, link):
    """The angle of a link over the cycle without jumps, up to a constant; nan from where a member does not assemble."""
    angle = np.angle(motion.rotation(link))
    jumps = np.round(np.diff(angle) / (2 * np.pi))
    angle[..., 1:] -= 2 * np.pi * np.cumsum(jumps, axis=-1)
    return angle


def kept(array):
    """The same with one more axis of length 1."""
    return np.asarray(array)[..., None]


@dataclass(frozen=True)
class Level(Aim):
    """A link keeps its direction, whichever that is: radians from the middle of what it does.

    Examples
    --------
    >>> import linkkit as lk
    >>> from linkkit.design import judge
    >>> bar = lk.four_bar(0.4, 0.1, 0.35, 0.25)
    >>> judge(bar, [Level("coupler")]).defects
    ('level coupler misses by 16.68 deg, and 1 deg is allowed',)
    """

    link: str
    _: KW_ONLY
    within: float = DEG
    between: tuple | None = None
    unit = "rad"

    def miss(self, motion):
        return about_the_middle(self.part(motion, turned(motion, self.link)))


@dataclass(frozen=True)
class Swing(Aim):
    """A link swings through an angle, radians.

    Examples
    --------
    >>> import linkkit as lk
    >>> from linkkit.design import judge
    >>> bar = lk.four_bar(0.4, 0.1, 0.35, 0.25)
    >>> judge(bar, [Swing("rocker", 0.83)]).good
    True
    """

    link: str
    wanted: float
    _: KW_ONLY
    within: float = DEG
    between: tuple | None = None
    unit = "rad"

    def miss(self, motion):
        angle = self.part(motion, turned(motion, self.link))
        return kept(span(angle) - self.wanted)


@dataclass(frozen=True)
class Stroke(Aim):
    """A point travels so far along a direction (a complex number), metres.

    Examples
    --------
    >>> import linkkit as lk
    >>> from linkkit.design import judge
    >>> bar = lk.four_bar(0.4, 0.1, 0.35, 0.25)
    >>> judge(bar, [Stroke("B", 0.2)]).defects
    ('stroke B misses by 25 mm, and 1 mm is allowed',)
    """

    point: str
    wanted: float
    _: KW_ONLY
    along: complex = 1 + 0j
    within: float = MM
    between: tuple | None = None
    unit = "m"

    @property
    def name(self):
        return f"{'lift' if self.along == 1j else 'stroke'} {self.point}"

    def miss(self, motion):
        along = self.along / abs(self.along)
        x = self.part(motion, (np.conj(along) * motion.point(self.point)).real)
        return kept(span(x) - self.wanted)


def Lift(point, wanted, *, within=5 * MM, between=None) -> Stroke:
    """A point rises and falls through so many metres.

    Examples
    --------
    >>> import linkkit as lk
    >>> from linkkit.design import judge
    >>> bar = lk.four_bar(0.4, 0.1, 0.35, 0.25)
    >>> judge(bar, [Lift("B", 0.05)]).defects
    ('lift B misses by 48.75 mm, and 5 mm is allowed',)
    """
    return Stroke(point, wanted, along=1j, within=within, between=between)


@dataclass(frozen=True)
class TimeRatio(Aim):
    """The longer turn of the crank between a link's extremes over the shorter one.

    Examples
    --------
    >>> import linkkit as lk
    >>> from linkkit.design import judge
    >>> bar = lk.four_bar(0.4, 0.1, 0.35, 0.25)
    >>> judge(bar, [TimeRatio("rocker", 1.2)]).defects
    ('time ratio rocker misses by 0.1625, and 0.02 is allowed',)
    """

    link: str
    wanted: float
    _: KW_ONLY
    within: float = 0.02
    unit = ""

    def miss(self, motion):
        angle, step = turned(motion, self.link), motion.input[..., 1] - motion.input[..., 0]
        apart = np.abs(peak(angle)[0] - peak(-angle)[0]) * step
        longer = np.maximum(apart, 2 * np.pi - apart)
        return kept(longer / (2 * np.pi - longer) - self.wanted)


@dataclass(frozen=True, eq=False)
class Through(Aim):
    """The path of a point passes some places (complex array, metres): how far each is from the path.

    Examples
    --------
    >>> import linkkit as lk
    >>> from linkkit.design import judge
    >>> bar = lk.four_bar(0.4, 0.1, 0.35, 0.25)
    >>> judge(bar, [Through("A", np.array([0.1, 0.1j]))]).good
    True
    """

    point: str
    places: np.ndarray
    _: KW_ONLY
    within: float = MM
    between: tuple | None = None
    unit = "m"

    def miss(self, motion):
        path = self.part(motion, motion.point(self.point))
        return np.stack([from_line(path, place) for place in np.asarray(self.places)], axis=-1)


@dataclass(frozen=True)
class Straight(Aim):
    """The path of a point lies on some straight line: metres from the best one.

    Examples
    --------
    >>> import linkkit as lk
    >>> from linkkit.design import judge
    >>> bar = lk.four_bar(0.4, 0.1, 0.35, 0.25)
    >>> judge(bar, [Straight("B", between=(0.5, 1.0))]).defects
    ()
    """

    point: str
    _: KW_ONLY
    within: float = MM
    between: tuple | None = None
    unit = "m"

    def miss(self, motion):
        path = self.part(motion, motion.point(self.point))
        off = path - path.mean(axis=-1, keepdims=True)
        turned = np.exp(0.5j * np.angle((off * off).sum(axis=-1, keepdims=True)))
        return about_the_middle((np.conj(turned) * off).imag)


@dataclass(frozen=True, eq=False)
class Follow(Aim):
    """A link turns from where it starts as a function of the input says (radians to radians, arrays).

    Examples
    --------
    >>> import linkkit as lk
    >>> from linkkit.design import judge
    >>> bar = lk.four_bar(0.4, 0.1, 0.35, 0.25)
    >>> judge(bar, [Follow("crank", lambda angle: angle)]).good
    True
    """

    link: str
    angles: Callable
    _: KW_ONLY
    within: float = DEG
    between: tuple | None = None
    unit = "rad"

    def miss(self, motion):
        angle = self.part(motion, turned(motion, self.link))
        wanted = self.angles(self.part(motion, np.broadcast_to(motion.input, motion.shape)))
        return about_the_middle(angle - wanted)


@dataclass(frozen=True, eq=False)
class LeastShaking(Aim):
    """The force with which the linkage shakes its frame at a speed of the input (rad/s), newtons; 0 is wanted.

    Examples
    --------
    >>> import linkkit as lk
    >>> from linkkit.design import judge
    >>> bar = lk.four_bar(0.4, 0.1, 0.35, 0.25)
    >>> judge(bar, [LeastShaking({"coupler": 1.0}, 10.0, within=20.0)]).defects
    ()
    """

    masses: dict
    speed: float
    _: KW_ONLY
    within: float
    name = "shaking force"
    unit = "N"

    def miss(self, motion):
        from ..forces import forces

        return np.abs(forces(motion.with_speed(self.speed), masses=self.masses).shaking_force)


@dataclass(frozen=True, eq=False)
class EvenTorque(Aim):
    """The input torque at a speed of the input (rad/s) stays even: N m from its mean.

    Examples
    --------
    >>> import linkkit as lk
    >>> from linkkit.design import judge
    >>> bar = lk.four_bar(0.4, 0.1, 0.35, 0.25)
    >>> judge(bar, [EvenTorque({"coupler": 1.0}, 10.0, within=2.0)]).defects
    ()
    """

    masses: dict
    speed: float
    _: KW_ONLY
    within: float
    loads: object = ()
    gravity: float = 0.0
    name = "input torque"
    unit = "N m"

    def miss(self, motion):
        from ..forces import forces

        told = motion.with_speed(self.speed)
        torque = forces(told, masses=self.masses, loads=self.loads, gravity=self.gravity).input_torque
        return torque - torque.mean(axis=-1, keepdims=True)


@dataclass(frozen=True, eq=False)
class Measure(Aim):
    """Any number of yours: a function of the motion that gives an array over the cycle, or one value a member.

    Examples
    --------
    >>> import linkkit as lk
    >>> from linkkit.design import judge
    >>> bar = lk.four_bar(0.4, 0.1, 0.35, 0.25)
    >>> judge(bar, [Measure("height of B", lambda motion: motion.point("B").imag.max(axis=-1), wanted=0.25, unit="m")]).good
    True
    """

    called: str
    function: Callable
    _: KW_ONLY
    wanted: float = 0.0
    within: float = 1.0
    unit: str = ""

    @property
    def name(self):
        return self.called

    def miss(self, motion):
        value = np.asarray(self.function(motion)) - self.wanted
        return value if value.shape[-1:] == motion.shape[-1:] else kept(value)


def span(array):
    """The greatest value less the least over the last axis, both as `peak` finds them."""
    return peak(array)[1] + peak(-array)[1]


def peak(array):
    """The greatest value over the last axis, and where: by the parabola through it and its neighbours.

    Returns
    -------
    at, value : float array
        The place in steps, and the value.
    """
    n = array.argmax(axis=-1)
    inner = np.clip(n, 1, array.shape[-1] - 2)
    before, here, after = (np.take_along_axis(array, kept(inner + k), axis=-1)[..., 0] for k in (-1, 0, 1))
    bend = before - 2 * here + after
    with np.errstate(all="ignore"):
        shift = np.where((bend < 0) & (inner == n), 0.5 * (before - after) / bend, n - inner)
    top = here - 0.25 * (before - after) * shift
    return inner + shift, np.where(inner == n, top, np.take_along_axis(array, kept(n), axis=-1)[..., 0])


def from_line(path, place):
    """The distance from a place to the broken line of a path (last axis), metres."""
    start, step = path[..., :-1], np.diff(path)
    with np.errstate(all="ignore"):
        part = np.clip(dot(place - start, step) / dot(step, step), 0.0, 1.0)
    away = place - start - np.where(np.isfinite(part), part, 0.0) * step
    return np.sqrt(np.min(away.real**2 + away.imag**2, axis=-1))


__all__ = [
    "EvenTorque", "Follow", "LeastShaking", "Level", "Lift", "Measure", "Straight", "Stroke", "Swing", "Through",
    "TimeRatio",
]  # fmt: skip
