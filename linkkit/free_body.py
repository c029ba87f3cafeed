"""The free body of one link: every force and moment on it, with where it acts."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .breakdown import linkage_groups
from .constraint import Drive, Guide, Locked, Pin
from .loads import Applied
from .relative import block_middle
from .singular import sentences


@dataclass(frozen=True)
class FreeBody:
    """All that acts on one link, arrays over the cycle; the inertia force and couple are among the `forces`.

    Each is an `Applied` with `name`, `at` (complex, m), `force` (complex, N) and `moment` (N m).
    """

    link: str
    forces: tuple

    @property
    def force_sum(self):
        """The sum of all forces: zero but for rounding; complex array, N."""
        return sum(a.force for a in self.forces)

    def moment_sum(self, about=0j):
        """The sum of all moments about a point (complex, m): zero but for rounding; N m."""
        return sum(a.moment + (np.conj(a.at - about) * a.force).imag for a in self.forces)


def free_body(forces, link) -> FreeBody:
    """All forces on one link of some `Forces`; the fixed link has its reactions only, for nothing else holds it."""
    forces.motion.linkage._know_links(link)
    made = [_pair(forces, eq, link) for eq in forces._rows.index if link in (eq.a, eq.b)]
    made += [a for a in forces.applied if a.link == link]
    if link in forces.masses and link != forces.motion.linkage.fixed:
        made.append(_inertia(forces, link))
    return FreeBody(link, tuple(made))


def _pair(forces, eq, link):
    sign, motion, rows = (1 if link == eq.b else -1), forces.motion, forces._rows.of(eq)
    other = eq.a if link == eq.b else eq.b
    if isinstance(eq, Pin):
        x, y = rows
        return Applied(f"{other} at {eq.at}", link, motion.point(eq.at), -sign * (x + 1j * y), 0.0)
    if isinstance(eq, Guide):
        s = motion.linkage.slide(eq.at)
        normal = 1j * rows[1] * motion.rotation(s.on) * s.direction
        return Applied(f"{other} on {eq.at}", link, motion.place(s.block, s.through), sign * normal, sign * rows[0])
    name = f"input {eq.input.name}" if isinstance(eq, Drive) else f"fastening at {eq.at}"
    if eq.at in motion.linkage.points:
        return Applied(name, link, motion.point(eq.at), 0.0, sign * rows[0])
    s = motion.linkage.slide(eq.at)
    along = rows[0] * motion.rotation(s.on) * s.direction
    return Applied(name, link, motion.place(s.block, block_middle(motion.linkage, s)), sign * along, 0.0)


def _inertia(forces, link):
    motion, mass = forces.motion, forces.masses[link]
    spot = motion.place(link, mass.centre(motion.linkage, link))
    force = -mass.mass * motion.acceleration_at(link, spot)
    return Applied("inertia", link, spot, force, -mass.inertia * motion.angular_acceleration(link))


def notes_of(forces) -> tuple:
    """What the reader of some `Forces` must know, in sentences."""
    notes, motion = list(sentences(forces.motion)), forces.motion
    for group in linkage_groups(motion.linkage):
        if group.kind == "carried":
            names = ", ".join(t.at for t in group.ties)
            notes.append(
                f"{' and '.join(group.links)} is held at more pairs ({names}) than it needs: statics cannot decide how "
                "they share the load, which depends on play and stiffness; the least forces are given"
            )
    for eq in forces.smooth.index:
        if isinstance(eq, Locked):
            notes.append(f"{eq.b} can move by itself; it is taken as fastened to {eq.a} at {eq.at}")
    if not forces.converged.all():
        count = int((~forces.converged).sum())
        notes.append(f"friction locks the machine at {count} positions: no finite force moves it as told")
    if forces.friction and np.any(forces.self_locking):
        notes.append("friction holds the machine where the loads would drive it: it does not run back by itself")
    return tuple(notes)
