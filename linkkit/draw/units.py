"""Numbers as they stand in pictures: millimetres or metres, degrees, round lengths."""

from __future__ import annotations

import math


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
