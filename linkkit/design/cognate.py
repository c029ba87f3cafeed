"""Cognates: the three four-bars that draw one and the same coupler curve.

With P = A + c (B - A) on the coupler, the third pivot is R = O + c (Q - O), and each cognate is made of parallelograms
and triangles similar to ABP.
Source: S. Roberts, On three-bar motion in plane space, Proc. London Math. Soc. 7 (1875) 14-23, and P. L. Chebyshev.
"""

from __future__ import annotations

import numpy as np

from ..errors import LinkageError
from ..facts import four_bar_lengths
from ..motion import move
from .four_bars import pinned_four_bar


def cognates(linkage, point="P") -> tuple:
    """The linkage given and its two cognates, each with a point P (named as `point`) that draws the same curve.

    Parameters
    ----------
    linkage : Linkage
        A four-bar with four turning pairs and a point on its coupler.
    point : str

    Returns
    -------
    tuple of Linkage
        The second stands on the pivot of the crank and on the new one, the third on the pivot of the rocker and on the
        new one. Each is sketched in the same position of the point; the first link of a cognate drives it, and turns as
        the coupler or the rocker of the given one does.

    Raises
    ------
    LinkageError
        If the linkage is no four-bar, or the point is not on its coupler.

    Examples
    --------
    >>> import linkkit as lk
    >>> guide = lk.four_bar(0.16, 0.08, 0.2, 0.2).with_point("coupler", "P", 0.4)
    >>> [round(float(x), 3) for x in four_bar_lengths(cognates(guide)[1])]
    [0.32, 0.4, 0.16, 0.4]
    """
    o, a, b, q, p = _clear_position(linkage, point)
    left, right = (pinned_four_bar(*pins, tracer=p, name="cognate") for pins in _pins(o, a, b, q, p))
    return (linkage, *(_renamed(bar, point) for bar in (left, right)))


def _pins(o, a, b, q, p):
    """The four pins of both cognates: through the loop r + s + t = Q - O the point is O + r + c s, the new pivot c times it."""
    c = (p - a) / (b - a)
    one, two, pivot = o + (p - a), q + (p - b), o + c * (q - o)
    return (o, one, one + c * (a - o), pivot), (q, two, two + (1 - c) * (b - q), pivot)


def _clear_position(linkage, point):
    """The places of the four pins and the point in some position in which no cognate stands in a limit position."""
    from ..breakdown import breakdown

    linkage._know_points(point)
    if four_bar_lengths(linkage) is None:
        raise LinkageError("cognates are for a four-bar with four turning pairs")
    chain = breakdown(linkage)[0]
    if linkage.carriers[point] != (chain.coupler,):
        raise LinkageError(f"{point} must be a point of the coupler alone, {chain.coupler}")
    motion = move(linkage)
    places = np.stack([np.broadcast_to(motion.point(name), motion.shape) for name in (*chain.pairs, point)])
    here = np.stack([linkage.points[name] for name in (*chain.pairs, point)])
    if _clear(*here) > 0.05:
        return [complex(z) for z in here]
    return [complex(z) for z in places[:, int(np.nanargmax(_clear(*places)))]]


def _clear(o, a, b, q, p):
    """How far the three quadrangles are from a limit position: the least sine of their transmission angles."""
    return np.min([_sine(*pins[1:]) for pins in ((o, a, b, q), *_pins(o, a, b, q, p))], axis=0)


def _sine(a, b, q):
    one, two = a - b, q - b
    with np.errstate(all="ignore"):
        return np.abs((np.conj(one) * two).imag) / np.abs(one * two)


def _renamed(bar, point):
    if point == "P":
        return bar
    from dataclasses import replace

    points = {(point if name == "P" else name): z for name, z in bar.points.items()}
    links = {k: tuple(point if name == "P" else name for name in carried) for k, carried in bar.links.items()}
    return replace(bar, points=points, links=links)


__all__ = ["cognates"]
