"""How links move against each other: along slides, about pins, and how unevenly."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .errors import LinkageError


@dataclass(frozen=True)
class Sliding:
    """The motion of a block along its slide, arrays over the cycle.

    Attributes
    ----------
    distance, speed, acceleration : float array
        Along the slide, m, m/s and m/s2, as seen from the guide.
    along : complex array
        The unit vector of the slide, as the guide carries it.
    coriolis : complex array
        The Coriolis part of the block's acceleration, ``2 i w v`` with the guide's angular velocity w; m/s2.
    """

    distance: np.ndarray
    speed: np.ndarray
    acceleration: np.ndarray
    along: np.ndarray
    coriolis: np.ndarray


@dataclass(frozen=True)
class Turning:
    """The turn of one link against another about their pin: `speed` rad/s and `acceleration` rad/s2 (float arrays)."""

    links: tuple
    speed: np.ndarray
    acceleration: np.ndarray

    def rubbing(self, radius):
        """The rubbing speed at a pin of that radius (metres): m/s, never negative."""
        return radius * np.abs(self.speed)


def block_middle(linkage, s) -> complex:
    """The middle of a slide's block in the sketch: its pin on the slide's line, else the foot of its nearest point."""
    off = [(linkage.points[p] - s.through) * np.conj(s.direction) for p in linkage.links[s.block]]
    return s.through + min(off, key=lambda w: abs(w.imag), default=0j).real * s.direction


def sliding(motion, slide) -> Sliding:
    """How a block moves along its slide.

    Source: any text on the theory of machines, under the Coriolis component.

    Examples
    --------
    >>> import linkkit as lk, numpy as np
    >>> shaper = lk.move(lk.machine("boatshed-shaper"), [0.0], speed=6.0)
    >>> found = sliding(shaper, "slot")
    >>> float(found.speed[0].round(3)), complex(found.coriolis[0].round(3))
    (0.831, (-1.361+0.567j))
    """
    s = motion.linkage.slide(slide)
    along = motion.rotation(s.on) * s.direction
    spot, w = motion.place(s.block, s.through), motion.angular_velocity(s.on)
    slip = motion.velocity_at(s.block, spot) - motion.velocity_at(s.on, spot)
    speed = (np.conj(along) * slip).real
    coriolis = 2j * w * speed * along
    rest = motion.acceleration_at(s.block, spot) - motion.acceleration_at(s.on, spot) - coriolis
    return Sliding(motion.displacement(slide), speed, (np.conj(along) * rest).real, along, coriolis)


def turning(motion, pin, links=None) -> Turning:
    """How the second of two links turns against the first about a pin; the first two that carry it if not named.

    Examples
    --------
    >>> import linkkit as lk
    >>> chopper = lk.move(lk.machine("ice-chopper"), 0.0, speed=10.0)
    >>> float(turning(chopper, "A").rubbing(0.01).round(3))
    0.1
    """
    motion.linkage._know_points(pin)
    carriers = motion.linkage.carriers[pin]
    links = tuple(links or carriers[:2])
    if len(links) != 2 or not set(links) <= set(carriers):
        raise LinkageError(f"{pin} is no pin between {' and '.join(links)}: it is on {', '.join(carriers)}")
    a, b = links
    return Turning(
        links,
        motion.angular_velocity(b) - motion.angular_velocity(a),
        motion.angular_acceleration(b) - motion.angular_acceleration(a),
    )
