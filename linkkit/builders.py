"""The two commonest linkages, from their lengths."""

from __future__ import annotations

import numpy as np

from .dyads import rrr
from .errors import LinkageError
from .linkage import Input, Linkage, Slide
from .quantity import positive, real, together


def four_bar(ground, crank, coupler, rocker, circuit="open") -> Linkage:
    """A four-bar linkage: ground OQ along +x, crank OA, coupler AB, rocker QB; the crank drives.

    Parameters
    ----------
    ground, crank, coupler, rocker : float or array
        Lengths in metres. Arrays broadcast and make a family; a member that cannot be assembled is nan throughout.
    circuit : {"open", "crossed"}
        Open: sketched with B to the left of the ray from A to Q, the crank turned by less than half a turn.

    Raises
    ------
    LinkageError
        For a length that is not a positive finite number, and for four lengths that never close.

    Examples
    --------
    >>> four_bar(0.4, 0.1, 0.35, 0.25).links["rocker"]
    ('Q', 'B')
    """
    names = ("ground", "crank", "coupler", "rocker")
    g, r, a, c = (_length(n, x) for n, x in zip(names, (ground, crank, coupler, rocker), strict=True))
    together(g, r, a, c, what="ground, crank, coupler and rocker")
    if circuit not in ("open", "crossed"):
        raise LinkageError(f"circuit is 'open' or 'crossed', not {circuit!r}")
    near, far = np.maximum(abs(g - r), abs(a - c)), np.minimum(g + r, a + c)
    if np.ndim(near) == 0 and near >= far:
        raise LinkageError(
            f"links of {g}, {r}, {a} and {c} m never close: the longest must be shorter than the rest together"
        )
    apart = np.where(near < far, 0.5 * (near + far), np.nan)
    pin = r * np.exp(1j * np.arccos((g * g + r * r - apart * apart) / (2 * g * r)))
    joint = rrr(pin, g + 0j, a * a, c * c, 1.0 if circuit == "open" else -1.0)
    points = {"O": np.zeros_like(apart), "A": pin, "B": joint, "Q": g + np.zeros_like(apart)}
    links = {"ground": ("O", "Q"), "crank": ("O", "A"), "coupler": ("A", "B"), "rocker": ("Q", "B")}
    turn = Input("crank", "angle", "O", ("ground", "crank"))
    return Linkage(points, links, "ground", inputs=(turn,), output="rocker", name="four-bar")


def slider_crank(crank, rod, offset=0.0) -> Linkage:
    """A slider-crank: crank OA, rod AB, and B on a slide along y = offset, on the +x side; the crank drives.

    Parameters
    ----------
    crank, rod, offset : float or array
        Metres; `offset` may be of either sign. Arrays broadcast and make a family.

    Raises
    ------
    LinkageError
        For a length that is not a positive finite number, and for a rod that never reaches the slide.

    Examples
    --------
    >>> engine = slider_crank(0.05, 0.2)
    >>> engine.slides[0].block
    'slider'
    """
    r, a = _length("crank", crank), _length("rod", rod)
    e = real(offset, "offset must be a length in metres")
    together(r, a, e, what="crank, rod and offset")
    low, high = np.maximum((e - a) / r, -1), np.minimum((e + a) / r, 1)
    if np.ndim(low) == 0 and low >= high:
        raise LinkageError(f"a crank of {r} m and a rod of {a} m never reach a slide at an offset of {e} m")
    sine = np.where(low < high, low + 0.75 * (high - low), np.nan)
    pin = r * (np.sqrt(1 - sine * sine) + 1j * sine)
    joint = pin.real + np.sqrt(a * a - (pin.imag - e) ** 2) + 1j * e
    points = {"O": np.zeros_like(sine), "A": pin, "B": joint}
    links = {"ground": ("O",), "crank": ("O", "A"), "rod": ("A", "B"), "slider": ("B",)}
    slide = Slide("slide", "slider", "ground", 1j * e if np.ndim(e) else complex(0, e), 1 + 0j)
    turn = Input("crank", "angle", "O", ("ground", "crank"))
    return Linkage(points, links, "ground", (slide,), (turn,), output="slider", name="slider-crank")


def _length(name, value):
    return positive(value, f"{name} must be a length in metres")
