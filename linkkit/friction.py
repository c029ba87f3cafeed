"""Coulomb friction at pins and slides, by iteration.

A pin resists turning by coefficient x radius x its force, a slide resists sliding by coefficient x the force that
presses it on. These depend on the forces that they change, so the forces are worked out again until they settle.

Limits: dry friction of one coefficient; the links are taken to move in the direction told, so that friction opposes
it (where nothing moves, as if the driving input moved forwards; where a pair is at rest in itself, no friction). A
journal's reaction is taken at the pin's own radius, not at the smaller radius of the friction circle: the difference
is second order in the coefficient. A slide presses on one face, or, if a `length` is given, on its two ends when its
moment tips it.
Source: Coulomb's law, as in any text on the theory of machines.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .constraint import Guide, Pin
from .errors import LinkageError
from .loads import Applied

ROUNDS, SETTLED = 200, 1e-12  # as a fraction of the largest force at the position
BOLD = 20  # rounds before a half step is taken, which settles what swings to and fro


@dataclass(frozen=True)
class Friction:
    """Friction in one pair: its `coefficient`, a pin's `radius` (m), the `length` of the block on a slide (m)."""

    coefficient: float
    radius: float | None = None
    length: float | None = None


@dataclass(frozen=True)
class Settled:
    """Forces with friction: multipliers, friction forces, their size along slides, and where they have settled."""

    rows: object
    applied: list
    along: dict
    converged: np.ndarray


def friction_of(linkage, friction) -> dict:
    """The friction of each pair by name, checked."""
    slides = [s.name for s in linkage.slides]
    for name, f in (friction or {}).items():
        pin = name in linkage.points and len(linkage.carriers[name]) > 1
        if not pin and name not in slides:
            raise LinkageError(f"friction is given for {name}, which is neither a pin nor a slide of the linkage")
        if not isinstance(f, Friction):
            raise LinkageError(f"friction at {name} must be a Friction, not {f!r}")
        if not np.isfinite(f.coefficient) or f.coefficient < 0:
            raise LinkageError(f"the coefficient of friction at {name} must be at least zero, not {f.coefficient!r}")
        if pin and not (f.radius and f.radius > 0):
            raise LinkageError(f"friction at the pin {name} needs the pin's radius in metres")
        if f.length is not None and not f.length > 0:
            raise LinkageError(f"the block on {name} must be longer than zero, not {f.length!r} m")
    return dict(friction or {})


def settle(forces) -> Settled:
    """The multipliers with friction; nan where they do not settle."""
    good = np.ones(forces.motion.shape, dtype=bool)
    if not forces.friction:
        return Settled(forces.smooth, [], {}, good)
    contacts, rows = _contacts(forces), forces.smooth
    with np.errstate(all="ignore"):
        for n in range(ROUNDS):
            applied = [a for contact in contacts for a in contact.applied(rows)]
            change = forces.smooth.stack + forces.answer(applied).stack[0] - rows.stack
            rows = rows.changed(change if n < BOLD else 0.5 * change)
            off = np.abs(change).max(axis=0)
            good = ~(off > SETTLED * np.abs(rows.stack).max(axis=0))
            if good.all():
                break
    rows.stack[:, ~good] = np.nan
    along = {c.eq.at: c.along(rows) for c in contacts if isinstance(c.eq, Guide)}
    return Settled(rows, [a for c in contacts for a in c.applied(rows)], along, good)


def _contacts(forces):
    """Each pair with friction, with the direction in which it moves."""
    motion = forces.motion
    if not any(np.any(s) for s in motion.speeds.values()):
        motion = motion.with_speed(1.0)
    kinds = {Pin: _PinContact, Guide: _SlideContact}
    return [
        kinds[type(eq)](eq, forces.friction[eq.at], motion)
        for eq in forces.smooth.index
        if type(eq) in kinds and eq.at in forces.friction
    ]


class _PinContact:
    def __init__(self, eq, friction, motion):
        self.eq, self.friction = eq, friction
        turn = motion.angular_velocity(eq.b) - motion.angular_velocity(eq.a)
        self.sense = np.sign(np.where(np.abs(turn) < _rest(motion), 0.0, turn))

    def applied(self, rows):
        x, y = rows.of(self.eq)
        moment = self.friction.coefficient * self.friction.radius * np.hypot(x, y) * self.sense
        name = f"friction at {self.eq.at}"
        return [Applied(name, self.eq.b, 0.0, 0.0, -moment), Applied(name, self.eq.a, 0.0, 0.0, moment)]


class _SlideContact:
    def __init__(self, eq, friction, motion):
        from .relative import sliding

        self.eq, self.friction = eq, friction
        found = sliding(motion, eq.at)
        self.direction, s = found.along, motion.linkage.slide(eq.at)
        still = _rest(motion) * max(np.nanmax(np.abs(z)) for z in motion.linkage.points.values())
        self.sense = np.sign(np.where(np.abs(found.speed) < still, 0.0, found.speed))
        self.spot = motion.place(eq.b, s.through)
        carried = motion.linkage.links[eq.b]
        middle = motion.point(carried[0]) if carried else self.spot
        self.to_mark = (np.conj(self.direction) * (self.spot - middle)).real

    def along(self, rows):
        """The friction force on the block in the slide's direction, N."""
        couple, normal = rows.of(self.eq)
        press = np.abs(normal)
        if self.friction.length:
            press = np.maximum(press, 2 * np.abs(couple + self.to_mark * normal) / self.friction.length)
        return -self.friction.coefficient * press * self.sense

    def applied(self, rows):
        force, name = self.along(rows) * self.direction, f"friction on {self.eq.at}"
        return [Applied(name, self.eq.b, self.spot, force, 0.0), Applied(name, self.eq.a, self.spot, -force, 0.0)]


def _rest(motion):
    """The angular velocity below which a pair counts as at rest: rounding of the fastest link's."""
    return 1e-12 * max(np.nanmax(np.abs(motion.angular_velocity(k)), initial=0.0) for k in motion.linkage.links)
