"""Where circles and lines cross: the two answers that a construction with ruler and compasses offers."""

from __future__ import annotations

import math


def circles(a, r, b, q) -> tuple:
    """The crossings of a circle about `a` of radius r and one about `b` of radius q; empty if they do not
    meet.

    Examples
    --------
    >>> circles(0j, 5.0, 6 + 0j, 5.0)
    ((3+4j), (3-4j))
    """
    d = abs(b - a)
    if d == 0:
        return ()
    along = (r * r - q * q + d * d) / (2 * d)
    return _pair(a, (b - a) / d, along, r * r - along * along, r * r)


def line_circle(through, way, a, r) -> tuple:
    """The crossings of the line through a point in a direction (a unit vector) with a circle about `a` of radius r."""
    foot = ((a - through) * way.conjugate()).real
    off = ((a - through) * way.conjugate()).imag
    height = r * r - off * off
    if height < -1e-12 * r * r:
        return ()
    half = math.sqrt(max(height, 0.0))
    return through + (foot + half) * way, through + (foot - half) * way


def lines(p, way, q, other) -> tuple:
    """The crossing of two lines, each through a point in a direction; empty if they are parallel."""
    across = (way.conjugate() * other).imag
    if abs(across) < 1e-12:
        return ()
    return (p + ((q - p).conjugate() * other).imag / across * way,)


def tangents(a, centre, r) -> tuple:
    """Where the two tangents from the point `a` touch a circle about `centre` of radius r; empty from inside."""
    d = abs(a - centre)
    if d <= r:
        return ()
    return circles(centre, r, (a + centre) / 2, d / 2)


def _pair(a, way, along, height, scale):
    if height < -1e-12 * scale:
        return ()
    half = math.sqrt(max(height, 0.0))
    return a + way * complex(along, half), a + way * complex(along, -half)
