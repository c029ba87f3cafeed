"""Jerk: the rate at which acceleration changes, of points and links, with the inputs' own accelerations held even."""

from __future__ import annotations

import numpy as np

from .constraint import Drive, Guide, Locked, Pin


def jerk(motion, point):
    """The jerk of a point: complex array, m/s3; nan at singular positions.

    Source: the third derivative of the constraint equations, as the second one gives accelerations.

    Examples
    --------
    The pin of an evenly turning crank has the jerk radius x speed cubed, against its velocity.

    >>> import linkkit as lk
    >>> chopper = lk.move(lk.machine("ice-chopper"), 0.0, speed=10.0)
    >>> complex(jerk(chopper, "A").round(6))
    -100j
    """
    link = motion._carrier(point)
    (v, w), arm = _third(motion)[link], motion._arm(link, point)
    turning = _factor(motion._velocities[link], motion._accelerations[link])
    return motion._full(v + (1j * w + turning) * arm, name_of=(link,))


def angular_jerk(motion, link):
    """The rate of change of a link's angular acceleration: float array, rad/s3."""
    motion.linkage._know_links(link)
    return motion._full(_third(motion)[link][1], name_of=(link,))


def _third(motion):
    """{link: (jerk of its anchor, angular jerk)}."""
    rates = motion.rates
    one, two = motion._velocities, motion._accelerations
    wanted = lambda eq: [-np.asarray(x)[None] for x in _bias(eq, rates.places, one, two)]  # noqa: E731
    with np.errstate(all="ignore"):
        return {motion.linkage.fixed: (0.0, 0.0)} | rates._solve(wanted, 1).term(0)


def _bias(eq, places, one, two):
    """What the third derivative of an equation holds besides jerks; `one` and `two` are rates and accelerations."""
    if isinstance(eq, Pin):
        off = sum(sign * _factor(one[k], two[k]) * eq.arm(places, k) for sign, k in ((1, eq.a), (-1, eq.b)))
        return np.real(off), np.imag(off)
    if isinstance(eq, (Drive, Locked)) and eq.at in places.linkage.points:
        return (0.0,)
    along = _slide_bias(eq, places, one, two)
    return (0.0, along.imag) if isinstance(eq, Guide) else (along.real,)


def _slide_bias(eq, places, one, two):
    """The same for conj(e) D, by the product rule; see `constraint` for e and D."""
    e, guide, block, d = Guide.frame(eq, places)
    (va, wa), (vb, wb) = one[eq.a], one[eq.b]
    (aa, ra), (ab, rb) = two[eq.a], two[eq.b]
    d1 = vb + 1j * wb * block - va - 1j * wa * guide
    d2 = ab + (1j * rb - wb * wb) * block - aa - (1j * ra - wa * wa) * guide
    d3 = _factor(one[eq.b], two[eq.b]) * block - _factor(one[eq.a], two[eq.a]) * guide
    turning = np.conj(_factor(one[eq.a], two[eq.a])) * d + 3 * (-1j * ra - wa * wa) * d1 - 3j * wa * d2
    return np.asarray(np.conj(e) * (turning + d3))


def _factor(one, two):
    """The third derivative of a unit vector that turns with a link, without its angular jerk, over that vector."""
    (_, w), (_, alpha) = one, two
    return -3 * w * alpha - 1j * w**3
