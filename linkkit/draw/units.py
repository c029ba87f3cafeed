"""Numbers as they stand in pictures: millimetres or metres, degrees, round lengths."""

from __future__ import annotations

import math

import numpy as np

ROUND_DEG = 330.0  # what spreads further goes right round
HAIR_DEG = 0.05  # half of what is shown: 359.96 reads as 0


def length_text(metres, *, digits=3) -> str:
    """A length with its unit: in millimetres below ten metres.

    Examples
    --------
    >>> length_text(0.1234), length_text(12.5)
    ('123 mm', '12.5 m')
    """
    if abs(metres) >= 10:
        return f"{significant(metres, digits)} m"
    return f"{significant(1000 * metres, digits)} mm"


def angle_text(radians) -> str:
    """An angle in degrees, to a tenth where it is not whole."""
    return f"{significant(math.degrees(radians), 1, places=1)}°"


def direction_text(radians) -> str:
    """A direction within one turn: folded after it is rounded, so that a hair less than a turn reads 0 and not 360.

    Examples
    --------
    >>> direction_text(-1e-12), direction_text(7.0)
    ('0°', '41.1°')
    """
    return f"{significant(round(math.degrees(radians), 1) % 360, 1, places=1)}°"


def folded(degrees):
    """Angles as a reader expects them: 0 to 360 if they go right round, else their middle within half a turn of 0.

    Examples
    --------
    >>> folded([-300.0, -210.0]), folded([-90.0, 90.0, 269.0])
    (array([ 60., 150.]), array([270.,  90., 269.]))
    """
    degrees = np.asarray(degrees, dtype=float)
    known = degrees[np.isfinite(degrees)]
    low, high = (known.min(), known.max()) if len(known) else (0.0, 0.0)
    if high - low > ROUND_DEG:
        return degrees - 360 * np.floor((degrees + HAIR_DEG) / 360)
    return degrees - 360 * np.ceil(((low + high) / 2 - 180 - HAIR_DEG) / 360)


def significant(x, digits, *, places=None) -> str:
    """A number to so many significant figures, or decimal places, without trailing zeros after the point."""
    if places is None:
        places = max(0, digits - 1 - math.floor(math.log10(abs(x)))) if x else 0
    text = f"{x:.{places}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text == "-0" else text.replace("-", "−")


def round_length(x) -> float:
    """The largest of 1, 2, 5 times a power of ten that is not above x.

    Examples
    --------
    >>> round_length(0.37)
    0.2
    """
    power = 10.0 ** math.floor(math.log10(x))
    return next(m * power for m in (5, 2, 1) if m * power <= x * (1 + 1e-12))


def place_text(z) -> str:
    """A point's coordinates in millimetres."""
    return f"({significant(1000 * z.real, 4, places=0)}, {significant(1000 * z.imag, 4, places=0)}) mm"
