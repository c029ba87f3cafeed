"""Units at the edge, by pint: what a unit written by a student is worth, and of what kind it is."""

from __future__ import annotations

import re
from functools import lru_cache

# pint would work on "mm**9**9**9" for a long time: only what a unit can look like reaches it
SHAPE = re.compile(r"(?!.*\d\d)(?!.*\d *(\^|\*\*))[A-Za-zµμ°%][-A-Za-zµμ°%·*/^²³ 0-9]{0,23}")
KINDS = {
    "radian": "an angle",
    "meter": "a length",
    "": "a plain number",
    "radian / second": "an angular speed",
    "meter / second": "a speed",
    "meter / second ** 2": "an acceleration",
    "newton": "a force",
}


@lru_cache(maxsize=1)
def registry():
    """The one registry; pint is loaded when the first unit is read."""
    import pint

    return pint.UnitRegistry()


@lru_cache(maxsize=512)
def si(text: str) -> tuple[float, str] | None:
    """(worth in SI, kind) of a unit; None if it is no unit that we know.

    Examples
    --------
    >>> si("mm")
    (0.001, 'meter')
    >>> si("furlongs per jiffy") is None
    True
    """
    text = text.strip().rstrip(".").replace("°", "deg")
    if not text:
        return 1.0, ""
    if not SHAPE.fullmatch(text):
        return None
    return _ask(text) or _ask(text.lower())


def _ask(text):
    """Ask pint; whatever it can't make sense of is no unit."""
    try:
        quantity = registry().Quantity(1.0, registry().parse_units(text)).to_base_units()
    except Exception:
        return None
    return float(quantity.magnitude), str(quantity.units).replace("dimensionless", "")


def kind_words(kind: str) -> str:
    """The kind of a unit in the student's words."""
    return KINDS.get(kind, f"a quantity in {kind}")
