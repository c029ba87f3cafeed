"""The closed forms of two links that hang between known ones: every mixture of turning and sliding pairs.

A dyad has three pairs: an outer one from its first link to a known link, an inner one between its two links, an outer
one from its second link to a known link. R is a turning pair and P a sliding one, so RRP is a rod pinned to a known
point and to a block that slides on a known line. PPP has no freedom to spare and does not occur; PRR is RRP seen from
the other end, and PPR is RPP.

Every function broadcasts over complex arrays in metres. Where the links cannot reach, the result is nan.
Method: intersection of circles and lines in complex form, as in any text on the theory of machines (the modular
approach to Assur groups of class II).
"""

from __future__ import annotations

import numpy as np

CIRCLES = 16  # how many of them are kept
_circles = {}  # number of steps: (angles, unit vectors)

ROUNDING = 1e-13  # a square that has gone this far below zero, relative to the lengths, is a zero spoilt by rounding


def root(square, side):
    """`side` times the square root, with rounding below zero taken as zero and all else below zero as nan."""
    if np.fmin.reduce(square, axis=None, initial=0.0) < 0:
        square = np.where(square < -ROUNDING, np.nan, np.maximum(square, 0.0))
    found = np.sqrt(square)
    return found if isinstance(side, float) and side == 1.0 else found * side


def vector(x, y):
    """The complex array x + i y (one pass each, no product)."""
    shape = x.shape if type(x) is type(y) is np.ndarray and x.shape == y.shape else np.broadcast(x, y).shape
    z = np.empty(shape, dtype=complex)
    z.real, z.imag = x, y
    return z


def circle(steps):
    """Equal steps of one turn from 0, radians; the array is kept with its unit vectors, since it is often asked for."""
    if steps not in _circles:
        if len(_circles) >= CIRCLES:
            _circles.clear()
        angle = np.arange(steps) * (2 * np.pi / steps)
        _circles[steps] = angle, turn(angle)
        for array in _circles[steps]:
            array.flags.writeable = False
    return _circles[steps][0]


def turn(angle):
    """The unit vector at an angle in radians: complex array."""
    if np.ndim(angle) == 1 and len(angle) in _circles and _circles[len(angle)][0] is angle:
        return _circles[len(angle)][1]
    z = np.empty(np.shape(angle), dtype=complex)
    np.cos(angle, out=z.real)
    np.sin(angle, out=z.imag)
    return z


def square(z):
    """The square of the modulus of a complex array."""
    return (z * z.conjugate()).real


def cross(a, b):
    """The signed area of the parallelogram on a and b: positive where b lies to the left of a."""
    return a.real * b.imag - a.imag * b.real


def dot(a, b):
    """The scalar product of two plane vectors."""
    return a.real * b.real + a.imag * b.imag


def rrr(a, c, ab2, cb2, side):
    """The joint B of two bars AB and CB between known points A and C.

    Parameters
    ----------
    a, c : complex array
        The known points, metres.
    ab2, cb2 : float array
        The squares of the two lengths, square metres.
    side : +1 or -1
        +1 where B is to the left of the ray from A to C.

    Returns
    -------
    complex array
        B; nan where the bars do not reach each other.

    Examples
    --------
    >>> complex(rrr(0j, 8 + 0j, 25.0, 25.0, 1))
    (4+3j)
    """
    d = np.asarray(c - a)
    w = 1 / square(d)
    x = 0.5 * (ab2 - cb2) * w + 0.5
    return d * vector(x, root(ab2 * w - x * x, side)) + a


def rrr_gap(a, c, ab2, cb2):
    """How far RRR is from its limit positions: 0 with A, B, C in line, negative where it does not reach; no unit."""
    d2 = square(np.asarray(c - a))
    r, s = np.sqrt(ab2), np.sqrt(cb2)
    return ((r + s) ** 2 - d2) * (d2 - (r - s) ** 2) / (r + s) ** 4


def rrp(a, start, along, ab2, side):
    """How far the block of RRP has slid: the bar AB from a known point A, B on a known line.

    Parameters
    ----------
    a, start, along : complex array
        A, a point of the line (metres), and the unit vector of the line.
    ab2 : float array
        The square of AB.
    side : +1 or -1
        +1 where B lies beyond the foot of the perpendicular from A, in the direction of the line.

    Returns
    -------
    float array
        The distance from `start` to B along the line; nan where the bar does not reach.

    Examples
    --------
    >>> float(rrp(3j, 0j, 1 + 0j, 25.0, 1))
    4.0
    """
    q = np.conj(along) * (a - start)
    return q.real + np.sqrt(ab2) * root(1 - q.imag * q.imag / ab2, side)


def rrp_gap(a, start, along, ab2):
    """How far RRP is from its limit positions: 0 with AB square to the line, negative out of reach; no unit."""
    h = (np.conj(along) * (a - start)).imag
    return 1 - h * h / ab2


def rpr(a, c, offset, side):
    """The turn of RPR: two links pinned at known points A and C that slide on each other.

    Parameters
    ----------
    a, c : complex array
        The known points, metres.
    offset : float array
        The distance of C to the left of the line through A along which they slide, metres.
    side : +1 or -1
        +1 where C lies ahead of A along the line.

    Returns
    -------
    along, reach : complex array, float array
        The unit vector of the line, and the distance from A to the foot of C along it; nan where
        A and C are nearer than `offset`.

    Examples
    --------
    >>> along, reach = rpr(0j, 5j, 0.0, 1)
    >>> complex(along), float(reach)
    (1j, 5.0)
    """
    d = np.asarray(c - a)
    d2 = square(d)
    reach = np.sqrt(d2) * root(1 - offset * offset / d2, side)
    return d / vector(reach, offset), reach


def rpr_gap(a, c, offset, scale2):
    """How far RPR is from its limit positions: 0 with CA square to the line, in units of `scale2` square metres."""
    return (square(np.asarray(c - a)) - offset * offset) / scale2


def prp(start1, along1, start2, along2):
    """How far each block of PRP has slid: two blocks on known lines, pinned together where the lines cross.

    Returns
    -------
    s1, s2 : float array
        Distances along the two lines from their starts, metres; nan where the lines are parallel.

    Examples
    --------
    >>> s1, s2 = prp(0j, 1 + 0j, 2 - 3j, 1j)
    >>> float(s1), float(s2)
    (2.0, 3.0)
    """
    lean = cross(along1, along2)
    lean = np.where(np.abs(lean) < 1e-12, np.nan, lean)
    gap = start2 - start1
    return cross(gap, along2) / lean, cross(gap, along1) / lean


def rpp(a, start, along_inner, along_outer):
    """How far the second link of RPP has slid on its two lines.

    The first link is pinned at A and cannot turn against the second, nor the second against the link that it slides
    on; so only two distances are unknown.

    Parameters
    ----------
    a, start : complex array
        One point of the second link as the first would carry it, and as the known link would.
    along_inner, along_outer : complex array
        The unit vectors of the line between the two links and of the line on the known link.

    Returns
    -------
    inner, outer : float array
        Distances along the two lines; nan where these are parallel.

    Examples
    --------
    >>> inner, outer = rpp(2 + 1j, 0j, 1j, 1 + 0j)
    >>> float(inner), float(outer)
    (-1.0, 2.0)
    """
    return prp(a, along_inner, start, along_outer)
