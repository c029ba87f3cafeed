"""Linkages that guide a point almost straight, in proportions known in closed form, and how straight a path is."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from ..builders import four_bar
from ..errors import LinkageError
from ..linkage import Input, Linkage
from ..motion import move
from ..quantity import positive
from .checking import judge
from .four_bars import pinned_four_bar
from .result import Designs, ranked

STEPS = 721


@dataclass(frozen=True)
class Straightness:
    """`stroke`, metres along the line from the first to the last point of a path, and `height` of the band that holds it."""

    stroke: float
    height: float

    @property
    def ratio(self):
        """Height over stroke."""
        return self.height / self.stroke


def straightness(path) -> Straightness:
    """How straight a path is (complex array, metres), seen along the line from its first to its last point.

    Examples
    --------
    >>> straightness(np.array([0, 1 + 0.01j, 2]))
    Straightness(stroke=2.0, height=0.01)
    """
    path = np.asarray(path, dtype=complex)
    if path.ndim != 1 or len(path) < 2 or path[0] == path[-1]:
        raise LinkageError("a path is a row of places, the last one apart from the first")
    seen = (path - path[0]) * np.conj(path[-1] - path[0]) / abs(path[-1] - path[0])
    return Straightness(float(np.ptp(seen.real)), float(np.ptp(seen.imag)))


def straight_line_for(stroke, *, kind="hoecken", crank_range=np.pi) -> Designs:
    """A linkage whose point P runs almost straight over a stroke.

    Parameters
    ----------
    stroke : float
        Metres.
    kind : str
        "hoecken" (a full crank; coupler = rocker = (3 ground - 1)/2 in cranks, tracer at twice the coupler; the ground
        is the one that is straightest over `crank_range`), "chebyshev" (4 : 5 : 2, two crossed rockers), "watt"
        (two equal arms, the tracer mid-coupler), "roberts" (a triangular coupler between two equal arms).
    crank_range : float
        Radians of crank in which the stroke is run through, for "hoecken".

    Returns
    -------
    Designs
        One design, its `error` the height in per cent of the stroke.
        `values` names the crank angles "start" and "end" of the straight stretch; `figures` its straightness there.
        Sources: for Hoecken's proportions R. L. Norton, Design of Machinery; the others in any text on kinematics.

    Examples
    --------
    >>> found = straight_line_for(0.320, kind="chebyshev").best
    >>> round(found.values["ground"], 6), found.figures["height of the band"]
    (0.32, '0.7803 mm')
    """
    stroke = float(positive(stroke, "the stroke must be a length in metres"))
    if kind not in _KINDS:
        raise LinkageError(f"a straight-line linkage is one of {', '.join(_KINDS)}, not {kind!r}")
    unit, start, end = _KINDS[kind](crank_range)
    scale = stroke / straightness(move(unit, np.linspace(start, end, STEPS)).point("P")).stroke
    linkage = _scaled(unit, scale)
    path = move(linkage, np.linspace(start, end, STEPS)).point("P")
    band = straightness(path)
    figures = {"stroke": f"{1000 * band.stroke:.4g} mm", "height of the band": f"{1000 * band.height:.4g} mm"}
    sizes = {link: linkage.length(*ends[:2]) for link, ends in linkage.links.items()}
    found = judge(linkage, over=(start, end), values=sizes | {"start": start, "end": end}, figures=figures)
    found.misses["height of the band"] = band.height
    return ranked([replace(found, error=100 * band.ratio)])


def _scaled(linkage, scale):
    points = {name: z * scale for name, z in linkage.points.items()}
    return Linkage(points, linkage.links, linkage.fixed, (), linkage.inputs, linkage.output, linkage.name)


def _hoecken(crank_range):
    from scipy.optimize import minimize_scalar

    if not 0 < crank_range < 1.6 * np.pi:
        raise LinkageError("crank_range is an angle in radians, more than 0 and less than 288 deg")
    turned = np.pi + 0.5 * crank_range * np.linspace(-1, 1, STEPS)
    band = lambda ground: straightness(_eye(ground, turned)).ratio  # noqa: E731
    found = minimize_scalar(band, bounds=(1.5, 2.9999), method="bounded", options={"xatol": 1e-9})
    return _arm(found.x), turned[0], turned[-1]


def _arm(ground):
    coupler = (3 * ground - 1) / 2
    bar = four_bar(ground, 1.0, coupler, coupler)
    return bar.with_point("coupler", "P", 2 * coupler)


def _eye(ground, turned):
    return move(_arm(ground), turned).point("P")


def _chebyshev(_):
    bar = four_bar(4.0, 5.0, 2.0, 5.0, circuit="crossed").with_point("coupler", "P", 1.0)
    return bar, float(np.arctan2(3, 4)), np.pi / 2


def _watt(_):
    points = {"O": 0, "A": 5 + 0j, "B": 5 - 2j, "Q": 10 - 2j, "P": 5 - 1j}
    links = {"ground": ("O", "Q"), "crank": ("O", "A"), "coupler": ("A", "B", "P"), "rocker": ("Q", "B")}
    turn = Input("crank", "angle", "O", ("ground", "crank"))
    return Linkage(points, links, "ground", inputs=(turn,), output="rocker", name="Watt's guide"), -0.3, 0.3


def _roberts(_):
    """Arms as long as the sides of the coupler's triangle, its base half the ground: P runs from pivot to pivot."""
    height = 1.2
    a, b, p = -0.5 + 1j * height, 0.5 + 1j * height, 0j
    bar = pinned_four_bar(-1 + 0j, a, b, 1 + 0j, tracer=p, name="Roberts' guide")
    ends = _symmetric_range(bar)
    return bar, *ends


def _symmetric_range(bar):
    """The crank angles at which P is nearest to the two pivots, as far as the arms reach."""
    angles = np.linspace(0.05, np.pi - 0.05, 20_001)
    path = move(bar, angles).point("P")
    off = [np.where(np.isfinite(path), np.abs(path - bar.points[p]), np.inf) for p in "OQ"]
    return tuple(sorted(float(angles[np.argmin(o)]) for o in off))


_KINDS = {"hoecken": _hoecken, "chebyshev": _chebyshev, "watt": _watt, "roberts": _roberts}
