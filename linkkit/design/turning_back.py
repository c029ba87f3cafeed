"""Cranks that drive to and fro: a wanted swing or stroke, a wanted time ratio, and the best transmission angle.

In both extremes crank and coupler lie in one line, so the crank's pivot sees the two extreme places of the driven pin
under the imbalance angle 180 deg (Q - 1)/(Q + 1): it lies on the circle over them that has this angle. One dimension
is left free on that circle, and is chosen for the transmission angle.
Source: H. Alt's construction, as in any text on synthesis under quick-return linkages.
"""

from __future__ import annotations

import numpy as np

from ..builders import four_bar, slider_crank
from ..errors import LinkageError
from ..facts import facts
from ..linkage import Input, Linkage, Slide
from ..quantity import positive
from .checking import judge
from .result import Designs, ranked

GRID = 4000  # places of the crank's pivot that are looked at before the best is sharpened
FARTHEST = 200.0  # half chords from the chord, where the two strokes take equal times


def imbalance(time_ratio):
    """The angle, radians, by which the two strokes of the crank differ from half a turn.

    Examples
    --------
    >>> round(float(np.degrees(imbalance(1.25))), 6)
    20.0
    """
    ratio = _ratio(time_ratio)
    return np.pi * (ratio - 1) / (ratio + 1)


def _ratio(time_ratio):
    ratio = positive(time_ratio, "the time ratio must be a number")
    if np.ndim(ratio) or ratio < 1:
        raise LinkageError(f"the time ratio is the slow stroke over the quick one, so at least 1, not {time_ratio!r}")
    return float(ratio)


def crank_rocker_for(swing, time_ratio=1.0, *, rocker=1.0, longest=4.0) -> Designs:
    """The crank-rocker with a swing and a time ratio whose least transmission angle is the best possible.

    Parameters
    ----------
    swing : float
        Radians, below half a turn.
    time_ratio : float
        The slow stroke over the quick one, at least 1.
    rocker : float
        Metres; everything scales with it.
    longest : float
        No link is longer than so many rockers; with a time ratio of 1 a longer one always transmits better.

    Raises
    ------
    LinkageError
        If no crank-rocker has these two.

    Examples
    --------
    >>> found = crank_rocker_for(np.radians(60), 1.0).best
    >>> round(found.values["swing"] * 180 / np.pi, 6), found.figures["class"]
    (60.0, 'crank-rocker')
    """
    swing, rocker = (
        positive(swing, "the swing must be an angle in radians"),
        positive(rocker, "rocker must be in metres"),
    )
    if np.ndim(swing) or swing >= np.pi:
        raise LinkageError("the swing of a crank-rocker is one angle below half a turn, in radians")
    delta, longest = imbalance(time_ratio), positive(longest, "longest must be a number of rockers")
    bars = _best(lambda u: _bars(u, float(swing), delta), lambda bars: _least_angle(bars, longest))
    if bars is None:
        raise LinkageError(
            f"no crank-rocker swings through {np.degrees(swing):.4g} deg with a time ratio of {time_ratio:.4g}"
        )
    sizes = dict(zip(("ground", "crank", "coupler", "rocker"), map(float, rocker * bars / bars[3]), strict=True))
    linkage = four_bar(**sizes)
    known = facts(linkage)
    return ranked([judge(linkage, values=sizes | {"swing": known.swing, "time ratio": known.time_ratio})])


def _bars(u, swing, delta):
    """Ground, crank, coupler, rocker for places of the crank's pivot, u from 0 to 1; the rocker is 1.

    The rocker's pivot is at 0 and its pin goes between the directions 90 deg +- swing/2.
    """
    one, two = np.exp(1j * (np.pi / 2 - swing / 2)), np.exp(1j * (np.pi / 2 + swing / 2))
    pivot = _seen(u, one, two, delta)
    near, far = np.sort(np.abs(np.stack([pivot - one, pivot - two])), axis=0)
    sides = [np.sign((np.conj(end - pivot) * -pivot).imag) for end in (one, two)]
    near = np.where(sides[0] == sides[1], near, np.nan)  # else the two extremes are on different circuits
    return np.stack([np.abs(pivot), 0.5 * (far - near), 0.5 * (far + near), np.ones_like(u)])


def _seen(u, one, two, delta):
    """Places from which two points are seen under an angle: all round both circles, or out along their line."""
    half, middle, along = 0.5 * abs(two - one), 0.5 * (one + two), (two - one) / abs(two - one)
    if delta < 1e-12:
        return middle + along * half * np.exp(np.log(FARTHEST) * u)
    upward = np.where(u < 0.5, 1j, -1j) * along
    round_it = -np.pi / 2 + delta + (2 * np.pi - 2 * delta) * (2 * u % 1.0)  # from one end of the chord to the other
    centre, radius = middle + upward * half / np.tan(delta), half / np.sin(delta)
    return centre + radius * (np.cos(round_it) * along + np.sin(round_it) * upward)


def _least_angle(bars, longest):
    """The least transmission angle of crank-rockers, folded; -inf for what is none, or too long."""
    g, r, a, c = bars
    with np.errstate(all="ignore"):
        ends = [(a * a + c * c - (g + s * r) ** 2) / (2 * a * c) for s in (1, -1)]
        worst = np.maximum(np.abs(ends[0]), np.abs(ends[1]))
        long = np.max(bars, axis=0)
        turns = np.isfinite(r) & (
            (r <= np.min(bars, axis=0))
            & (r + long < bars.sum(axis=0) - r - long - 1e-9)
            & (r > 1e-6)
            & (long <= longest)
        )
        return np.where(turns & (worst < 1), np.arccos(np.clip(worst, 0, 1)), -np.inf)


def _best(make, merit):
    """The dimensions with the greatest merit over u from 0 to 1: a grid, then Brent's method; None if there are none."""
    from scipy.optimize import minimize_scalar

    grid = (np.arange(GRID) + 0.5) / GRID
    worth = merit(make(grid))
    n = int(np.argmax(worth))
    if not np.isfinite(worth[n]):
        return None
    low, high = max(grid[n] - 1 / GRID, 0.0), min(grid[n] + 1 / GRID, 1.0)
    cost = lambda u: float(np.nan_to_num(-merit(make(np.array([u])))[0], posinf=10.0))  # noqa: E731
    found = minimize_scalar(cost, bounds=(low, high), method="bounded", options={"xatol": 1e-12})
    return make(np.array([found.x if -found.fun > worth[n] else grid[n]]))[:, 0]


def slider_crank_for(stroke, time_ratio=1.0, *, rod=None) -> Designs:
    """The slider-crank with a stroke and a time ratio; its rod is given, or chosen for the transmission angle.

    Parameters
    ----------
    stroke : float
        Metres.
    time_ratio : float
        At least 1. Above 1 the slide is offset.
    rod : float, optional
        Metres. Needed where the time ratio is 1: the longer it is, the better it transmits, so there is no best.

    Examples
    --------
    >>> found = slider_crank_for(0.12, 1.2).best
    >>> round(found.values["stroke"], 9), round(found.values["time ratio"], 9)
    (0.12, 1.2)
    """
    stroke, delta = float(positive(stroke, "the stroke must be a length in metres")), imbalance(time_ratio)
    if delta < 1e-12:
        sizes = _in_line(stroke, rod)
    elif rod is None:
        sizes = _offset(stroke, delta)
    else:
        sizes = _with_rod(stroke, delta, rod)
    if sizes is None:
        raise LinkageError(f"no slider-crank has this stroke, a time ratio of {time_ratio:.4g} and this rod")
    values = dict(zip(("crank", "rod", "offset"), map(float, sizes), strict=True))
    linkage = slider_crank(**values)
    known = facts(linkage)
    return ranked([judge(linkage, values=values | {"stroke": known.stroke, "time ratio": known.time_ratio})])


def _in_line(stroke, rod):
    if rod is None:
        raise LinkageError("with a time ratio of 1 a longer rod is always better: say how long the rod is")
    rod = positive(rod, "rod must be a length in metres")
    if rod <= stroke / 2:
        raise LinkageError(f"a rod of {rod:.4g} m is too short for a crank of {stroke / 2:.4g} m, half the stroke")
    return stroke / 2, rod, 0.0


def _slider_sizes(u, stroke, delta):
    """Crank, rod, offset for places of the crank's pivot on the circle that sees the stroke under an angle."""
    pivot = _seen(0.5 * u, -stroke / 2 + 0j, stroke / 2 + 0j, delta)
    near, far = np.sort(np.abs(np.stack([pivot - stroke / 2, pivot + stroke / 2])), axis=0)
    near = np.where(
        np.abs(pivot.real) > stroke / 2, near, np.nan
    )  # else they are on different sides of the crank's pivot
    return np.stack([0.5 * (far - near), 0.5 * (far + near), np.abs(pivot.imag)])


def _slider_angle(sizes):
    r, a, e = sizes
    with np.errstate(all="ignore"):
        return np.where((r + e < a) & (r > 0), np.arccos(np.clip((r + e) / a, 0, 1)), -np.inf)


def _offset(stroke, delta):
    return _best(lambda u: _slider_sizes(u, stroke, delta), _slider_angle)


def _with_rod(stroke, delta, rod):
    """From the law of cosines in the triangle of both extremes: crank and offset for a given rod."""
    rod = float(positive(rod, "rod must be a length in metres"))
    square = (stroke * stroke / 2 - rod * rod * (1 - np.cos(delta))) / (1 + np.cos(delta))
    if square <= 0:
        return None
    crank = np.sqrt(square)
    offset = (rod * rod - square) * np.sin(delta) / stroke
    if crank + offset >= rod:
        return None
    far, near = (np.sqrt((rod + s * crank) ** 2 - offset * offset) for s in (1, -1))
    return (crank, rod, offset) if abs(far - near - stroke) < 1e-9 * stroke else None  # else on both sides of the crank


def quick_return_for(stroke, time_ratio, *, crank, link=None) -> Designs:
    """A slotted-lever quick return for a shaper's ram: centre distance and lever from stroke, time ratio and crank.

    The lever is square to the crank at both extremes, so half its swing has the sine crank / centre distance.
    Source: R. S. Khurmi, J. K. Gupta, Theory of Machines, ch. 5; any text under the crank and slotted lever.

    Parameters
    ----------
    stroke, crank : float
        Metres.
    time_ratio : float
        Above 1.
    link : float, optional
        The bar from the lever's end to the ram; as long as the lever if not given. The stroke does not depend on it.

    Examples
    --------
    >>> found = quick_return_for(0.120, 1.7, crank=0.030).best
    >>> round(1000 * found.values["centre distance"], 1), round(1000 * found.values["lever"], 1)
    (75.7, 151.5)
    """
    stroke, crank = (float(positive(x, f"{n} must be in metres")) for n, x in (("stroke", stroke), ("crank", crank)))
    half = np.pi / (1 + _ratio(time_ratio))
    if half > np.pi / 2 - 1e-9:
        raise LinkageError("a slotted lever always returns quicker than it cuts: ask for a time ratio above 1")
    centres = crank / np.cos(half)
    lever = stroke / (2 * np.cos(half))
    link = lever if link is None else float(positive(link, "link must be a length in metres"))
    linkage = _shaper(crank, centres, lever, link)
    known = facts(linkage)
    values = {"crank": crank, "centre distance": centres, "lever": lever, "link": link}
    wrong = () if lever > centres + crank else ("the crank's pin runs out of the slot: the lever is too short",)
    found = {"stroke": known.stroke, "time ratio": known.time_ratio}
    return ranked([judge(linkage, values=values | found, defects=wrong)])


def _shaper(crank, centres, lever, link):
    """The shaper with its crank pivot at 0, its lever's pivot below, its ram's ways level over the lever's end."""
    foot, pin = -1j * centres, crank + 0j
    end = foot + lever * (pin - foot) / abs(pin - foot)
    rise = foot.imag + lever * (1 + np.sqrt(1 - (crank / centres) ** 2)) / 2
    ram = end - np.sqrt(link**2 - (rise - end.imag) ** 2) + 1j * (rise - end.imag)
    points = {"O": 0j, "A": pin, "Q": foot, "L": end, "M": ram}
    links = {
        "frame": ("O", "Q"), "crank": ("O", "A"), "block": ("A",), "lever": ("Q", "L"), "link": ("L", "M"), "ram": ("M",),
    }  # fmt: skip
    slides = (
        Slide("slot", "block", "lever", foot, (pin - foot) / abs(pin - foot)),
        Slide("ways", "ram", "frame", ram, 1 + 0j),
    )
    turn = Input("crank", "angle", "O", ("frame", "crank"))
    return Linkage(points, links, "frame", slides, (turn,), output="ram", name="quick return")
