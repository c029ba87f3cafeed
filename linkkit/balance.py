"""Balance: counterweights that keep a machine from shaking its frame.

A four-bar is in full force balance if its common centre of mass stands still. A slider-crank cannot be by turning
masses alone: a counterweight takes a share of the reciprocating force and gives as much across the stroke. Several
cylinders in line may cancel one another's primary and secondary forces and couples.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .errors import LinkageError
from .masses import Mass, masses_of
from .quantity import positive

CAUTION = (
    "A counterweight that comes off is a projectile, and full force balance raises the pin forces and the shaking "
    "moment. Fastening, strength and guards are for a qualified engineer under the local codes."
)


@dataclass(frozen=True)
class Counterweight:
    """A weight on one link: `mass` kg at the place `at` (complex, in the sketch, metres)."""

    link: str
    mass: float
    at: complex


@dataclass(frozen=True)
class Counterweights:
    """The counterweights of a linkage, and the masses of its links with them in place; printed with their cautions."""

    weights: tuple
    masses: dict
    caution: str = CAUTION

    def __str__(self):
        said = [f"{w.mass:.6g} kg on {w.link} at ({w.at.real:.6g}, {w.at.imag:.6g}) m" for w in self.weights]
        return f"counterweights: {'; '.join(said)}. {self.caution}"


def counterweights(linkage, masses=None, *, radius) -> Counterweights:
    """The counterweights on crank and rocker that balance a four-bar's forces fully, at every speed.

    With all masses referred to the two turning links by the loop equation, each of these must have its centre of mass
    at its fixed pin. The shaking moment remains.
    Source: R. S. Berkof and G. G. Lowen, A new method for completely force balancing simple linkages, ASME Journal of
    Engineering for Industry 91 (1969) 21-26.

    Parameters
    ----------
    linkage : Linkage
        A four-bar: two links pinned to the fixed one, and a coupler.
    masses : dict of str to Mass or float, optional
        As for `forces`.
    radius : float or dict of str to float
        Metres from the fixed pin to the counterweight, for both links or each by name.

    Examples
    --------
    >>> import linkkit as lk
    >>> bar = lk.four_bar(0.4, 0.1, 0.35, 0.25)
    >>> found = counterweights(bar, {"coupler": 1.0}, radius=0.05)
    >>> [(w.link, round(float(w.mass), 6)) for w in found.weights]
    [('crank', 1.0), ('rocker', 2.5)]
    """
    masses = masses_of(linkage, masses)
    one, coupler, two = _four_bar(linkage)
    share = _coupler_share(linkage, masses.get(coupler), coupler, one, two)
    made, weights = dict(masses), []
    for link, (pin, end), part in zip((one, two), _ends(linkage, one, coupler, two), share, strict=True):
        moment = part * (linkage.points[end] - linkage.points[pin])
        if link in masses:
            moment += masses[link].mass * (masses[link].centre(linkage, link) - linkage.points[pin])
        distance = radius[link] if isinstance(radius, dict) else radius
        distance = positive(distance, f"the counterweight on {link} needs a radius in metres")
        if abs(moment) == 0:
            continue
        weight = Counterweight(link, abs(moment) / distance, linkage.points[pin] - moment / abs(moment) * distance)
        weights.append(weight)
        made[link] = joined(linkage, link, masses.get(link), weight)
    return Counterweights(tuple(weights), made)


def joined(linkage, link, mass, weight) -> Mass:
    """A link's mass together with a counterweight, which is taken as a point."""
    if mass is None:
        return Mass(weight.mass, weight.at)
    centre, total = mass.centre(linkage, link), mass.mass + weight.mass
    at = (mass.mass * centre + weight.mass * weight.at) / total
    own = mass.mass * abs(centre - at) ** 2 + weight.mass * abs(weight.at - at) ** 2
    return Mass(total, at, inertia=mass.inertia + own)


def _four_bar(linkage):
    turning = [k for k in linkage.moving if linkage.joined(linkage.fixed, k)]
    rest = [k for k in linkage.moving if k not in turning]
    if linkage.slides or len(turning) != 2 or len(rest) != 1 or not all(linkage.joined(rest[0], k) for k in turning):
        raise LinkageError("full force balance by two counterweights is for a four-bar with four turning pairs")
    return turning[0], rest[0], turning[1]


def _ends(linkage, one, coupler, two):
    return [(linkage.joined(linkage.fixed, k)[0], linkage.joined(coupler, k)[0]) for k in (one, two)]


def _coupler_share(linkage, mass, coupler, one, two):
    """The part of the coupler's mass that each end pin carries, a complex number if its centre is off their line."""
    if mass is None:
        return 0.0, 0.0
    a, b = (linkage.points[end] for _, end in _ends(linkage, one, coupler, two))
    along = (mass.centre(linkage, coupler) - a) / (b - a)
    return mass.mass * (1 - along), mass.mass * along


@dataclass(frozen=True)
class PartBalance:
    """A single slider-crank with a counterweight against the crank.

    Attributes
    ----------
    mass : float
        The counterweight, kg.
    along, across : float
        What is left of the primary force along the stroke and across it, as amplitudes of cosine and sine, N.
    """

    mass: float
    along: float
    across: float
    caution: str = CAUTION

    def residual(self, theta):
        """The unbalanced primary force at crank angles theta (radians from the dead centre): along + i across, N."""
        return self.along * np.cos(theta) + 1j * self.across * np.sin(theta)

    def __str__(self):
        return (
            f"counterweight {self.mass:.6g} kg; primary force left: {abs(self.along):.6g} N along the stroke, "
            f"{abs(self.across):.6g} N across. {self.caution}"
        )


def part_balance(*, crank, reciprocating, rotating=0.0, share=0.5, radius, speed) -> PartBalance:
    """The balance of a single slider-crank by a counterweight that takes a share of the reciprocating mass.

    Parameters
    ----------
    crank : float
        The crank's radius, m.
    reciprocating, rotating : float
        The reciprocating mass, and the rotating mass at the crank's radius, kg.
    share : float
        The balance factor: the share of the reciprocating mass that is balanced.
    radius : float
        Of the counterweight, m.
    speed : float
        rad/s.

    Source: any text on the theory of machines, under partial balancing; the secondary force is left out.

    Examples
    --------
    >>> part_balance(crank=0.1, reciprocating=3.0, rotating=1.0, share=0.5, radius=0.125, speed=10.0).mass
    2.0
    """
    positive(crank, "crank must be a length in metres")
    positive(radius, "the counterweight's radius must be a length in metres")
    scale = reciprocating * crank * speed**2
    mass = (rotating + share * reciprocating) * crank / radius
    return PartBalance(mass, (1 - share) * scale, share * scale)


@dataclass(frozen=True)
class EngineBalance:
    """The inertia forces of cylinders in line, as amplitudes that turn with the crank (primary) or twice as fast.

    Each is complex: the force along the stroke at crank angle theta is the real part of
    ``primary_force * exp(i theta)`` and of ``secondary_force * exp(2 i theta)``, N; couples about the plane x = 0
    likewise, N m.
    """

    primary_force: complex
    primary_couple: complex
    secondary_force: complex
    secondary_couple: complex
    scale: tuple
    caution: str = CAUTION

    def force(self, theta):
        """The unbalanced force along the stroke at crank angles theta (radians), N."""
        return _turning(self.primary_force, self.secondary_force, theta)

    def couple(self, theta):
        """The unbalanced couple about the plane x = 0 at crank angles theta (radians), N m."""
        return _turning(self.primary_couple, self.secondary_couple, theta)

    @property
    def balanced(self):
        """Which of the four vanish but for rounding: a tuple of names."""
        names = ("primary_force", "primary_couple", "secondary_force", "secondary_couple")
        return tuple(n for n, size in zip(names, self.scale, strict=True) if abs(getattr(self, n)) <= 1e-12 * size)

    def __str__(self):
        return (
            f"primary force {abs(self.primary_force):.6g} N, couple {abs(self.primary_couple):.6g} N m; "
            f"secondary force {abs(self.secondary_force):.6g} N, couple {abs(self.secondary_couple):.6g} N m. "
            f"{self.caution}"
        )


def _turning(primary, secondary, theta):
    return (primary * np.exp(1j * theta)).real + (secondary * np.exp(2j * theta)).real


def inline_engine(*, crank, rod, reciprocating, throws, positions=None, speed) -> EngineBalance:
    """The primary and secondary forces and couples of cylinders in one plane on one crankshaft.

    Parameters
    ----------
    crank, rod : float
        Metres.
    reciprocating : float or float array
        Kilograms, for all cylinders or each.
    throws : float array
        Shape (n,): the angle of each crank ahead of the first, radians.
    positions : float array, optional
        Shape (n,): where the cylinders stand along the shaft, m; all at 0 if not given.
    speed : float
        rad/s.

    Source: any text on the theory of machines, under balancing of reciprocating masses; two terms of the series.

    Examples
    --------
    Four cylinders in line with cranks at 0, 180, 180 and 0 degrees keep a secondary force.

    >>> import numpy as np
    >>> four = inline_engine(crank=0.05, rod=0.2, reciprocating=0.6, throws=np.radians([0, 180, 180, 0]),
    ...                      positions=[-0.15, -0.05, 0.05, 0.15], speed=200.0)
    >>> four.balanced
    ('primary_force', 'primary_couple', 'secondary_couple')
    >>> round(abs(four.secondary_force), 6)
    1200.0
    """
    phi = np.atleast_1d(np.asarray(throws, dtype=float))
    x = np.zeros_like(phi) if positions is None else np.asarray(positions, dtype=float)
    mass = np.broadcast_to(np.asarray(reciprocating, dtype=float), phi.shape)
    if x.shape != phi.shape or not (crank > 0 and rod > crank):
        raise LinkageError("an engine needs one position for each throw, and a rod longer than its crank")
    one, two = mass * crank * speed**2 * np.exp(1j * phi), mass * crank**2 / rod * speed**2 * np.exp(2j * phi)
    sums = one.sum(), (one * x).sum(), two.sum(), (two * x).sum()
    scale = tuple(float(np.abs(v).sum()) for v in (one, one * x, two, two * x))
    return EngineBalance(*(complex(v) for v in sums), scale)
