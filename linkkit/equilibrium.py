"""Static and kinetostatic forces: what every pair carries, and what must be put in, over the whole cycle.

The inputs are taken to move as told; the forces follow from equilibrium of each link under its loads, its weight
and its inertia (d'Alembert). The part that inertia plays is worked out once for unit accelerations and unit products of
speeds, so that another speed is a weighted sum.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from .constraint import Drive, Guide, Pin
from .errors import LinkageError
from .friction import settle
from .inertia import unit_wrenches
from .loads import Applied
from .reactions import Rows, Wrenches, reactions
from .singular import limit, places_beside


@dataclass(frozen=True)
class SlideReaction:
    """What a guide does to its block, arrays over the cycle.

    Attributes
    ----------
    normal : float array
        The force square to the slide, N, positive to the left of its direction.
    force : complex array
        The same as a vector, N; without friction.
    moment : float array
        The moment of the reaction about the block's first point (its marked point if it carries none), N m.
    along : float array
        The friction force on the block along the slide, N.
    """

    normal: np.ndarray
    force: np.ndarray
    moment: np.ndarray
    along: np.ndarray


class Forces:
    """The forces in a moving linkage, arrays over the cycle; newtons and newton metres.

    Attributes
    ----------
    motion : Motion
    masses : dict of str to Mass
    loads : tuple of Load
    notes : tuple of str
        What the reader must know: singular positions, forces that statics cannot decide, friction that locks.

    Where the linkage is not assembled, or a force has no finite limit, or friction locks, the values are nan.
    """

    def __init__(self, motion, masses, loads, gravity, friction, shared):
        self.motion, self.masses, self.loads = motion, masses, loads
        self.gravity, self.friction, self._shared = gravity, friction, shared

    def with_speed(self, speed=0.0, acceleration=0.0) -> Forces:
        """The same linkage and loads at another speed; neither geometry nor equilibrium is solved again."""
        motion = self.motion.with_speed(speed, acceleration)
        return Forces(motion, self.masses, self.loads, self.gravity, self.friction, self._shared)

    def pin(self, name, on=None):
        """The force at a pin on one link by the others there: complex array, N.

        On the last link that carries the point, unless `on` names another. Forces that are applied to the pin itself
        from outside are not part of it.
        """
        self.motion.linkage._know_points(name)
        carriers = self.motion.linkage.carriers[name]
        on = carriers[-1] if on is None else on
        if on not in carriers or len(carriers) < 2:
            raise LinkageError(f"{name} is no pin of {on}: it is on {', '.join(carriers)}")
        force = np.zeros(self.motion.shape, dtype=complex)
        for eq in self._rows.index:
            if isinstance(eq, Pin) and eq.at == name and on in (eq.a, eq.b):
                x, y = self._rows.of(eq)
                force = force + (1 if on == eq.a else -1) * (x + 1j * y)
        return force[()]

    def slide(self, name) -> SlideReaction:
        """The reaction of a slide on its block."""
        s = self.motion.linkage.slide(name)
        eq = next(e for e in self._rows.index if isinstance(e, Guide) and e.at == name)
        couple, normal = self._rows.of(eq)
        along = self.motion.rotation(s.on) * s.direction
        carried = self.motion.linkage.links[s.block]
        to = self.motion.place(s.block, s.through) - (
            self.motion.point(carried[0]) if carried else self.motion.place(s.block, s.through)
        )
        rub = self._settled.along.get(name, 0.0) + np.zeros(self.motion.shape)
        moment = couple + (np.conj(to) * (1j * normal + rub) * along).imag
        return SlideReaction(normal, 1j * normal * along, moment, rub)

    def input(self, name):
        """What an input needs: the torque on its driven link (N m), or the force along its slide on the block (N)."""
        names = [i.name for i in self.motion.linkage.inputs]
        if name not in names:
            raise LinkageError(f"there is no input {name}; the inputs are {', '.join(names)}")
        eq = next(e for e in self._rows.index if isinstance(e, Drive) and e.input.name == name)
        return self._rows.of(eq)[0]

    @property
    def input_torque(self):
        """What the driving input needs: torque on its driven link, N m (a force, N, where it is a distance)."""
        return self.input(self.motion.drive)

    @property
    def frame_force(self):
        """All that the links and loads do to the fixed link: complex array, N."""
        x, y, _ = self._on_frame
        return x + 1j * y + sum(a.force for a in self.applied if a.link == self.motion.linkage.fixed)

    @property
    def shaking_force(self):
        """The part of the force on the fixed link that is due to inertia: less the rate of change of momentum.

        Complex array, N: what the pairs and inputs do to the fixed link, less the loads and weights on the others.
        """
        x, y, _ = self._on_frame
        return x + 1j * y - sum(a.force for a in self._outside)

    @property
    def shaking_moment(self):
        """The moment due to inertia on the fixed link about the origin of the sketch, N m."""
        return self.shaking_moment_about(0j)

    def shaking_moment_about(self, z):
        """The moment about the point z of the fixed link (complex, metres) that is due to inertia, N m."""
        *_, moment = self._on_frame
        moment = moment - sum(a.moment + (np.conj(a.at) * a.force).imag for a in self._outside)
        return moment - (np.conj(z) * self.shaking_force).imag

    @cached_property
    def input_power(self):
        """The power that the inputs put in, W."""
        return sum((self._rows.of(eq)[0] * s for eq, s in self._driven()), np.zeros(self.motion.shape))

    @cached_property
    def load_power(self):
        """The power of all loads, weights and friction, W: positive where they drive the machine."""
        return sum((self._power(a) for a in self.applied), np.zeros(self.motion.shape))

    @cached_property
    def kinetic_rate(self):
        """The rate of change of the kinetic energy, W."""
        rate = np.zeros(self.motion.shape)
        for link, mass in self.masses.items():
            spot = self.motion.place(link, mass.centre(self.motion.linkage, link))
            v, a = self.motion.velocity_at(link, spot), self.motion.acceleration_at(link, spot)
            turn = self.motion.angular_velocity(link) * self.motion.angular_acceleration(link)
            rate = rate + mass.mass * (np.conj(v) * a).real + mass.inertia * turn
        return rate

    @property
    def power_error(self):
        """Power put in and of the loads, less the rate of kinetic energy: a fraction of the peak power (no unit)."""
        parts = self.input_power, self.load_power, self.kinetic_rate
        peak = np.nanmax(np.abs(parts)) if self.motion.ok.any() else 0.0
        return (parts[0] + parts[1] - parts[2]) / (peak or 1.0)

    @cached_property
    def applied(self) -> list[Applied]:
        """Every load, weight and friction force, each on one link."""
        return self._given + self._settled.applied

    @property
    def notes(self):
        """What the reader must know, in sentences."""
        from .free_body import notes_of

        return notes_of(self)

    def free_body(self, link):
        """All forces on one link, with where they act, the inertia force among them."""
        from .free_body import free_body

        return free_body(self, link)

    @property
    def self_locking(self):
        """Where the loads would drive the machine but for friction, which holds it (bool array)."""
        bare = sum((self.smooth.of(eq)[0] * s for eq, s in self._driven()), np.zeros(self.motion.shape))
        return (bare < 0) & (self.input_power >= 0)

    @property
    def converged(self):
        """Where friction has settled (bool array); true everywhere without friction."""
        return self._settled.converged

    @cached_property
    def _given(self):
        if self._steady and "given" in self._shared:
            return self._shared["given"]
        made = []
        for link, mass in self.masses.items() if self.gravity else ():
            spot = self.motion.place(link, mass.centre(self.motion.linkage, link))
            made.append(Applied("weight", link, spot, mass.mass * self.gravity, 0.0))
        made += [a for load in self.loads for a in load.applied(self.motion)]
        if self._steady:
            self._shared["given"] = made
        return made

    @property
    def _steady(self):
        """Whether no load follows the speed, so that all speeds share what the loads do."""
        return not any(load.follows_speed for load in self.loads)

    @property
    def _outside(self):
        return [a for a in self.applied if a.link != self.motion.linkage.fixed]

    def answer(self, applied):
        """The multipliers of all pairs under some loads alone, as `Rows` of one term."""
        return self._solved(self._pushed(applied), 1)

    def _pushed(self, applied):
        wrenches = Wrenches(self.motion.rates.places)
        for a in applied:
            if a.link != self.motion.linkage.fixed:
                wrenches.push(a.link, a.at, a.force, a.moment)
        return wrenches

    def _solved(self, wrenches, terms):
        with np.errstate(all="ignore"):
            return Rows(self.motion.rates, reactions(self.motion.rates, wrenches), wrenches, terms)

    def _unit(self, terms):
        """The multipliers per unit acceleration of inputs and product of speeds, for numbered terms; last, steady loads.

        Only terms that have a weight are solved; another speed finds them again.
        """
        if terms not in self._shared:
            with np.errstate(all="ignore"):
                wrenches = unit_wrenches(self.motion.rates, self.masses, terms)
                wrenches.append(self._pushed(self._given if self._steady else []), len(terms), self.motion.shape)
            self._shared[terms] = self._solved(wrenches, len(terms) + 1)
        return self._shared[terms]

    @cached_property
    def smooth(self):
        """The multipliers without friction."""
        weights = self.motion.weights
        terms = tuple(n for n, weight in enumerate(weights) if np.any(weight))
        if not self.masses or not terms:
            return self.answer(self._given).weighted([1.0])
        rows = self._unit(terms).weighted([*(weights[n] for n in terms), 1.0])
        return rows if self._steady else rows.changed(self.answer(self._given).stack[0])

    @cached_property
    def _settled(self):
        return settle(self)

    @cached_property
    def _rows(self):
        rows = self._settled.rows
        rows.stack[:, ~self.motion.ok] = np.nan
        singular = self.motion.singular
        if singular.any() and len(self.motion.shape) < 2:
            spots = np.flatnonzero(singular)
            beside = self._beside(spots)._settled.rows.stack
            flat = rows.stack.reshape(len(rows.stack), -1)
            here = flat[:, spots]
            flat[:, spots] = np.where(np.isnan(here), limit(beside, np.nanmax(np.abs(beside), initial=0.0)), here)
        return rows

    @property
    def _on_frame(self):
        return self._rows.stack[-3:]

    def _beside(self, spots):
        motion = self.motion
        places = places_beside(motion.linkage, motion.drive, motion.inputs, motion.shape, spots)
        beside = motion.beside(places, spots)
        loads = tuple(load.sampled(motion, spots) for load in self.loads)
        return Forces(beside, self.masses, loads, self.gravity, self.friction, {})

    def _driven(self):
        speeds = self.motion.speeds
        return [(eq, speeds.get(eq.input.name, 0.0)) for eq in self.smooth.index if isinstance(eq, Drive)]

    def _power(self, a):
        w = self.motion.angular_velocity(a.link)
        if np.ndim(a.force) == 0 and a.force == 0:
            return a.moment * w
        return (np.conj(a.force) * self.motion.velocity_at(a.link, a.at)).real + a.moment * w
