"""Function generation: a rocker that turns as a function of its crank says.

With the ground 1, the crank r2, the coupler r3 and the rocker r4, the closing of the loop reads
    K1 cos(phi) - K2 cos(theta) + K3 = cos(theta - phi),  K1 = 1/r2, K2 = 1/r4, K3 = (1 + r2^2 + r4^2 - r3^2) / (2 r2 r4)
with theta the crank's direction and phi that of the rocker from its fixed pivot: linear in the three K, so three pairs
of angles fix them and more of them are met by least squares. A length that comes out negative is a link whose pointer
stands half a turn from it. What is least then is not the rocker's error but what is left of this equation; so from
there the error itself is made least, by scipy's least squares over the three lengths.
Source: F. Freudenstein, Approximate synthesis of four-bar linkages, Trans. ASME 77 (1955) 853-861.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from ..dyads import rrr
from ..errors import LinkageError
from ..motion import move
from ..quantity import positive, real
from .checking import judge
from .four_bars import pinned_four_bar, side
from .result import Designs, ranked

UNIT = np.radians(1)  # of the error by which generators are compared


def chebyshev_spacing(low, high, count=3):
    """Precision points spaced by Chebyshev's rule: the feet of points at equal angles on the half circle over the range.

    Source: any text on synthesis, as J. J. Uicker, G. R. Pennock, J. E. Shigley, Theory of Machines and Mechanisms.

    Examples
    --------
    >>> chebyshev_spacing(1, 3).round(3)
    array([1.134, 2.   , 2.866])
    """
    if isinstance(count, bool) or not isinstance(count, int | np.integer) or count < 1:
        raise LinkageError(f"the number of precision points must be a whole number of at least 1, not {count!r}")
    low, high = (real(x, "the ends of the range must be numbers") for x in (low, high))
    at = np.cos((2 * np.arange(count, 0, -1) - 1) * np.pi / (2 * count))
    return 0.5 * (low + high) + 0.5 * (high - low) * at


@dataclass(frozen=True)
class Scales:
    """The even scales of a function: its range of x and the ranges of the two angles, radians, that go with it."""

    function: object
    x: tuple
    crank: tuple
    rocker: tuple

    def __post_init__(self):
        for what in ("x", "crank", "rocker"):
            span = np.atleast_1d(real(getattr(self, what), f"the range of {what} must be two numbers"))
            if span.shape != (2,) or span[0] == span[1]:
                raise LinkageError(f"the range of {what} must be two different numbers, not {getattr(self, what)!r}")
        if self.values(self.x)[0] == self.values(self.x)[1]:
            raise LinkageError("the function has the same value at both ends of x, so its scale has no length")

    def values(self, x):
        """y at an array of x, refused where it is not a number."""
        with np.errstate(all="ignore"):
            y = np.asarray([self.function(float(one)) for one in np.ravel(x)], dtype=float)
        if not np.isfinite(y).all():
            raise LinkageError("the function must have a finite value everywhere between the ends of x")
        return y

    def angles(self, x):
        """The crank's and the rocker's angles at some x."""
        (x0, x1), (c0, c1), (r0, r1) = self.x, self.crank, self.rocker
        y0, y1 = self.values(self.x)
        return c0 + (np.asarray(x) - x0) / (x1 - x0) * (c1 - c0), r0 + (self.values(x) - y0) / (y1 - y0) * (r1 - r0)


@dataclass(frozen=True)
class StructuralError:
    """By how much the rocker is off the function: `x`, and `error` in radians of the rocker at each, `largest` of them."""

    x: np.ndarray
    error: np.ndarray

    @property
    def largest(self):
        """The largest amount; nan where the linkage does not assemble over the whole range."""
        return float(np.abs(self.error).max())


def lengths_for(theta, phi):
    """r2, r3, r4 of the four-bar on ground 1 that meets some pairs of angles: three exactly, more by least squares.

    Parameters
    ----------
    theta, phi : float array
        Shape (n,), n at least 3: the crank's and the rocker's direction, radians, both from their fixed pivots.

    Returns
    -------
    float array
        r2, r3, r4; a negative r2 or r4 is a link whose pointer stands half a turn from it; r3 is nan where none closes.
    """
    rows = np.column_stack([np.cos(phi), -np.cos(theta), np.ones(len(theta))])
    (k1, k2, k3), _, rank, _ = np.linalg.lstsq(rows, np.cos(theta - phi), rcond=None)
    if rank < 3 or min(abs(k1), abs(k2)) < 1e-9:
        raise LinkageError("these pairs of angles ask for a link without end: change a range a little")
    r2, r4 = 1 / k1, 1 / k2
    square = 1 + r2 * r2 + r4 * r4 - 2 * r2 * r4 * k3
    return np.array([r2, np.sqrt(square) if square > 0 else np.nan, r4])


def four_bar_for_function(
    function, x=(1.0, 2.0), crank=(np.pi / 6, 2 * np.pi / 3), rocker=(4 * np.pi / 3, 11 * np.pi / 6), *,
    points=3, ground=1.0,
) -> Designs:  # fmt: skip
    """The four-bar whose rocker turns as a function of its crank, both on even scales.

    Parameters
    ----------
    function : callable
        From x to y, floats.
    x : (float, float)
        The range of x.
    crank, rocker : (float, float)
        The angles of the crank's pointer at the ends of x and of the rocker's at the ends of y, radians.
    points : int or float array
        How many precision points, spaced by Chebyshev's rule, or the values of x themselves. Three are met exactly,
        more by least squares, in two ways.
    ground : float
        Metres between the fixed pivots; everything scales with it.

    Returns
    -------
    Designs
        Each with the largest structural error over the range, in degrees, as its `error`; see `structural_error`. One
        design for three points. For more there are two, the better first, and the figure "least squares of" tells
        them apart: what is left of Freudenstein's equation (the closed form), and the structural error at the
        points. Where the precision points lie on both circuits, or no coupler closes, the defects say so.

    Examples
    --------
    >>> found = four_bar_for_function(lambda x: 1 / x, points=3).best
    >>> found.good, round(found.values["crank"], 2)
    (True, 2.47)
    >>> [one.figures["least squares of"] for one in four_bar_for_function(lambda x: 1 / x, points=5)]
    ['the structural error', "Freudenstein's equation"]
    """
    scales = Scales(function, x, crank, rocker)
    spots = chebyshev_spacing(*x, points) if isinstance(points, int) else real(points, "points must be numbers")
    if np.ndim(spots) != 1 or len(np.unique(spots)) < 3:
        raise LinkageError("a function needs at least three different precision points")
    theta, phi = scales.angles(spots)
    ground, closed = float(positive(ground, "ground must be a length in metres")), lengths_for(theta, phi)
    if not np.isfinite(closed[1]):
        raise LinkageError("no coupler joins crank and rocker at these precision points: change a range of angles")
    found = {"Freudenstein's equation": closed}
    if len(spots) > 3:
        found["the structural error"] = least_error(theta, phi, closed)
    made = [_made(scales, spots, theta, phi, (ground, *(ground * r)), what) for what, r in found.items()]
    return ranked(made, tried=len(made))


def least_error(theta, phi, lengths):
    """r2, r3, r4 of the four-bar on ground 1 whose rocker is least off at some pairs of angles, refined from others.

    As `lengths_for`, by which `lengths` are found: the sum of squares of the rocker's errors is never larger than theirs.
    """
    from scipy.optimize import least_squares

    sides = side(lengths[0] * np.exp(1j * theta), 1 + lengths[2] * np.exp(1j * phi), 1.0)
    if len(set(sides)) > 1:
        return lengths  # no one circuit to be on

    def error(sizes):
        r2, r3, r4 = sizes
        turned = (rrr(r2 * np.exp(1j * theta), 1 + 0j, r3 * r3, r4 * r4, sides[0]) - 1) / r4
        return np.nan_to_num(np.angle(turned * np.exp(-1j * phi)), nan=np.pi)

    return least_squares(error, lengths, xtol=1e-15, ftol=1e-15, gtol=1e-15, x_scale=np.abs(lengths)).x


def _made(scales, spots, theta, phi, lengths, what):
    """The design, sketched at its middle precision point; `what` was made least."""
    ground, r2, r3, r4 = lengths
    pin, joint = r2 * np.exp(1j * theta), ground + r4 * np.exp(1j * phi)
    sides = side(pin, joint, ground)
    n = len(theta) // 2
    offsets = {"crank pointer": 0.0 if r2 > 0 else np.pi, "rocker pointer": 0.0 if r4 > 0 else np.pi}
    values = {"ground": ground, "crank": abs(r2), "coupler": r3, "rocker": abs(r4)} | offsets
    linkage = pinned_four_bar(0j, pin[n], _closing(pin[n], lengths, sides[n]), ground + 0j, name="function generator")
    wrong = () if len(set(sides)) == 1 else ("circuit defect: its precision points lie on both circuits",)
    over = tuple(np.asarray(scales.crank) + offsets["crank pointer"])
    design = judge(linkage, over=tuple(sorted(over)), values=values, defects=wrong)
    error = structural_error(design, *vars(scales).values())
    design.figures["structural error"] = f"{np.degrees(error.largest):.4g} deg of the rocker at most"
    design.misses["structural error"] = error.largest
    design.figures["precision points"] = ", ".join(f"{x:.4g}" for x in spots)
    if len(spots) > 3:
        design.figures["least squares of"] = what
    return replace(design, error=error.largest / UNIT if np.isfinite(error.largest) else np.inf)


def _closing(pin, lengths, sign):
    """The joint of coupler and rocker on one side of the ray from the crank's pin to the rocker's pivot."""
    ground, _, r3, r4 = lengths
    return complex(rrr(np.asarray(pin), ground + 0j, r3 * r3, r4 * r4, float(sign)))


def structural_error(design, function, x, crank, rocker, *, steps=721) -> StructuralError:
    """By how much a function generator is off, over its whole range, found by moving it.

    Parameters
    ----------
    design : Design
        From `four_bar_for_function`; or any linkage with a crank and a rocker whose pointers lie along them.
    function, x, crank, rocker
        As for `four_bar_for_function`.

    Examples
    --------
    >>> import numpy as np
    >>> asked = (lambda x: 1 / x, (1, 2), np.radians([30, 120]), np.radians([240, 330]))
    >>> found = structural_error(four_bar_for_function(*asked).best, *asked)
    >>> round(float(np.degrees(found.largest)), 2)
    0.11
    """
    values = np.linspace(*x, steps)
    theta, phi = Scales(function, x, crank, rocker).angles(values)
    linkage, chosen = getattr(design, "linkage", design), getattr(design, "values", {})
    turned = move(linkage, theta + chosen.get("crank pointer", 0.0)).angle("rocker")
    off = np.asarray(turned) - chosen.get("rocker pointer", 0.0) - phi
    return StructuralError(values, np.angle(np.exp(1j * off)))
