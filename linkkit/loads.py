"""Loads on a linkage: forces at points and along slides, torques on links, springs, weight.

A value is a number, an array over the cycle, or a function ``value(position, speed)`` of two arrays. For a force at a
point these are the point's position and velocity (complex, m and m/s); along a slide the distance and its rate; for a
torque the link's angle and angular velocity; and with `of="input"` the driving input and its speed instead.
"""

from __future__ import annotations

from dataclasses import dataclass, fields, replace

import numpy as np

from .errors import LinkageError
from .quantity import real


@dataclass(frozen=True)
class Applied:
    """One force and moment on one link: `at` where the force acts (complex arrays, metres, newtons, newton metres)."""

    name: str
    link: str
    at: np.ndarray
    force: np.ndarray
    moment: np.ndarray


class Load:
    """What all loads have in common."""

    def applied(self, motion) -> list[Applied]:
        """The forces and moments that the load puts on the links of a motion."""
        raise NotImplementedError

    @property
    def follows_speed(self):
        """Whether the load may change with the speed at one and the same position."""
        return callable(getattr(self, "value", None)) or bool(getattr(self, "damping", 0.0))

    def sampled(self, motion, spots):
        """The same load at some positions only, as a column for several places around each."""
        columns = {}
        for f in fields(self):
            value = getattr(self, f.name)
            if isinstance(value, np.ndarray) and value.ndim:
                columns[f.name] = np.broadcast_to(value, motion.shape).ravel()[spots][:, None]
        return replace(self, **columns)


@dataclass(frozen=True)
class Force(Load):
    """A force at a point, newtons (complex: x + iy), on the first link that carries the point, or on the link `on`."""

    at: str
    value: object
    on: str | None = None
    of: str | None = None

    def applied(self, motion):
        motion.linkage._know_points(self.at)
        link = _carrier(motion.linkage, self.at, self.on)
        own = lambda: (motion.point(self.at), motion.velocity(self.at))  # noqa: E731
        force = evaluate(self.value, self.of, motion, own, complex, f"the force at {self.at}")
        return [Applied(f"force at {self.at}", link, motion.point(self.at), force, 0.0)]


@dataclass(frozen=True)
class SlideForce(Load):
    """A force along a slide, newtons: on the block in the slide's direction, and the opposite on the guide.

    This is what a gas does to a piston and its cylinder, or a ram to its two ends. Where the reaction is taken by
    something outside the machine, `reaction=False` leaves it out.
    """

    slide: str
    value: object
    of: str | None = None
    reaction: bool = True

    def applied(self, motion):
        from .relative import block_middle

        s = motion.linkage.slide(self.slide)
        own = lambda: distance_and_rate(motion, self.slide)  # noqa: E731
        size = evaluate(self.value, self.of, motion, own, float, f"the force along {self.slide}")
        force = size * motion.rotation(s.on) * s.direction
        spot, name = motion.place(s.block, block_middle(motion.linkage, s)), f"force along {self.slide}"
        pair = [Applied(name, s.block, spot, force, 0.0), Applied(name, s.on, spot, -force, 0.0)]
        return pair if self.reaction else pair[:1]


@dataclass(frozen=True)
class Torque(Load):
    """A torque on a link, newton metres, anticlockwise positive; `against` names a link that takes the opposite one."""

    on: str
    value: object
    against: str | None = None
    of: str | None = None

    def applied(self, motion):
        own = lambda: (motion.angle(self.on), motion.angular_velocity(self.on))  # noqa: E731
        torque = evaluate(self.value, self.of, motion, own, float, f"the torque on {self.on}")
        made = [Applied(f"torque on {self.on}", self.on, 0.0, 0.0, torque)]
        if self.against is not None:
            motion.linkage._know_links(self.against)
            made.append(Applied(f"torque on {self.on}", self.against, 0.0, 0.0, -torque))
        return made


@dataclass(frozen=True)
class Spring(Load):
    """A spring between two points: `stiffness` N/m, `free` length m, `damping` N s/m along its line."""

    p: str
    q: str
    stiffness: float
    free: float = 0.0
    damping: float = 0.0
    on: tuple = (None, None)

    def applied(self, motion):
        ends = [_carrier(motion.linkage, name, link) for name, link in zip((self.p, self.q), self.on, strict=True)]
        gap = motion.point(self.q) - motion.point(self.p)
        length = np.abs(gap)
        along = np.divide(gap, length, out=np.zeros_like(gap), where=length > 0)
        pull = self.stiffness * (length - self.free)
        if self.damping:
            pull = pull + self.damping * _dot(along, motion.velocity(self.q) - motion.velocity(self.p))
        name = f"spring {self.p}{self.q}"
        return [
            Applied(name, ends[0], motion.point(self.p), pull * along, 0.0),
            Applied(name, ends[1], motion.point(self.q), -pull * along, 0.0),
        ]


@dataclass(frozen=True)
class TurnSpring(Load):
    """A spring that resists the turn of the second of two `links` against the first.

    `stiffness` N m/rad; `free` the turn from the sketch at which it is slack, radians; `damping` N m s/rad. The
    turn is taken between half a turn to either side of the sketch.
    """

    links: tuple
    stiffness: float
    free: float = 0.0
    damping: float = 0.0

    def applied(self, motion):
        a, b = self.links
        turn = np.angle(motion.rotation(b) / motion.rotation(a))
        torque = -self.stiffness * (turn - self.free)
        if self.damping:
            torque = torque - self.damping * (motion.angular_velocity(b) - motion.angular_velocity(a))
        name = f"spring between {a} and {b}"
        return [Applied(name, b, 0.0, 0.0, torque), Applied(name, a, 0.0, 0.0, -torque)]


def load_table(positions, values, *, period=None):
    """A function of position through a table, for a gas pressure or a cutting force: monotone cubic, held at its ends.

    Parameters
    ----------
    positions, values : float array
        Shape (n,); positions rising, in the unit of the load's coordinate (metres, radians).
    period : float, optional
        Where the table repeats, as once in two turns of a four-stroke engine's crank: ``4 * np.pi``.

    Returns
    -------
    callable
        ``value(position, speed)``.

    Examples
    --------
    >>> gas = load_table([0.0, 0.1, 0.2], [4000.0, 1500.0, 600.0])
    >>> float(gas(0.1, None))
    1500.0
    """
    from scipy.interpolate import PchipInterpolator

    x, y = np.asarray(positions, dtype=float), np.asarray(values, dtype=float)
    if x.ndim != 1 or x.shape != y.shape or len(x) < 2 or np.any(np.diff(x) <= 0) or not np.all(np.isfinite(y)):
        raise LinkageError("a table needs two rows of equally many finite numbers, its positions rising")
    if period is not None:
        if x[-1] - x[0] > period:
            raise LinkageError(f"the positions of the table span {x[-1] - x[0]:g}, more than its period {period:g}")
        x, y = (np.concatenate([v - step, v, v + step]) for v, step in ((x, period), (y, 0.0)))
        x, keep = np.unique(x, return_index=True)
        y = y[keep]
    curve = PchipInterpolator(x, y)
    if period is None:
        return lambda position, speed: curve(np.clip(position, x[0], x[-1]))
    start = float(positions[0])
    return lambda position, speed: curve(start + np.mod(np.asarray(position) - start, period))


def fall(gravity) -> complex:
    """The acceleration of free fall as a vector: a number acts towards -y, a complex one in its own direction."""
    what = "gravity must be the acceleration of free fall in m/s2"
    if isinstance(gravity, (complex, np.complexfloating)):
        return complex(real(gravity.real, what), real(gravity.imag, what))
    return -1j * real(gravity, what)


def loads_of(linkage, loads) -> tuple:
    """A tuple of loads; a dict gives by name a complex force at a point, a force along a slide, a torque on a link."""
    if not isinstance(loads, dict):
        loads = (loads,) if isinstance(loads, Load) else tuple(loads)
        for load in loads:
            if not isinstance(load, Load):
                raise LinkageError(f"a load is a Force, SlideForce, Torque, Spring or TurnSpring, not {load!r}")
        return loads
    return tuple(_named(linkage, name, value) for name, value in loads.items())


def _named(linkage, name, value):
    kinds = {Force: linkage.points, SlideForce: [s.name for s in linkage.slides], Torque: linkage.links}
    found = [kind for kind, names in kinds.items() if name in names]
    if len(found) != 1:
        what = "is more than one of" if found else "is none of"
        raise LinkageError(f"{name} {what} the linkage's points, slides and links: give the load as a Force or Torque")
    return found[0](name, value)


def evaluate(value, of, motion, own, kind, what):
    """The value of a load over the cycle; `own` gives the position and speed that a function of the load takes."""
    if callable(value):
        if of not in (None, "input"):
            raise LinkageError(f'{what}: of is None or "input", not {of!r}')
        position, speed = own() if of is None else (motion.input, motion.speed)
        value = value(position, speed)
    try:
        array = np.asarray(value, dtype=kind)
        known = np.broadcast_to(np.isfinite(array), motion.shape)
    except (TypeError, ValueError):
        raise LinkageError(
            f"{what} must be a number, or an array that fits the cycle of shape {motion.shape}"
        ) from None
    if not known.all() and not (known | ~motion.ok | motion.singular).all():
        raise LinkageError(f"{what} must be finite wherever the linkage is assembled")
    return array


def distance_and_rate(motion, slide):
    """How far a block is along its slide and how fast it slides: metres, m/s."""
    from .relative import sliding

    found = sliding(motion, slide)
    return found.distance, found.speed


def _carrier(linkage, point, on):
    linkage._know_points(point)
    if on is None:
        moving = [k for k in linkage.carriers[point] if k != linkage.fixed]
        return (moving or [linkage.fixed])[0]
    if on not in linkage.carriers[point]:
        raise LinkageError(f"the load at {point} is on {on}, which does not carry {point}")
    return on


def _dot(a, b):
    return (np.conj(a) * b).real
