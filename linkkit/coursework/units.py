"""Units at the edge, by pint: what a unit written by a student is worth, and of what kind it is."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from functools import lru_cache

# pint would work on "mm**9**9**9" for a long time: only what a unit can look like reaches it
SHAPE = re.compile(r"(?!.*\d\d)(?!.*\d *(\^|\*\*))[A-Za-zµμ°%][-A-Za-zµμ°%·*/^²³ 0-9]{0,23}")
KINDS = {
    "radian": "an angle",
    "meter": "a length",
    "": "a plain number",
    "radian / second": "an angular speed",
    "radian / second ** 2": "an angular acceleration",
    "meter / second": "a speed",
    "meter / second ** 2": "an acceleration",
    "kilogram": "a mass",
    "kilogram * meter / second ** 2": "a force",
    "kilogram * meter ** 2 / second ** 2": "a torque or an energy",
    "kilogram * meter ** 2 / second ** 3": "a power",
    "kilogram * meter ** 2": "a moment of inertia",
}


@dataclass(frozen=True)
class Asked:
    """A unit that is asked for: its kind, what it is worth in SI, an example of an answer."""

    kind: str
    worth: float
    example: str


ASKED = {
    "": Asked("", 1.0, '"0.875"'),
    "mm": Asked("meter", 1e-3, '"87.5 mm"'),
    "deg": Asked("radian", math.pi / 180, '"12.5 deg"'),
    "rad/s": Asked("radian / second", 1.0, '"-3.25 rad/s"'),
    "rad/s^2": Asked("radian / second ** 2", 1.0, '"-32.5 rad/s^2"'),
    "m/s": Asked("meter / second", 1.0, '"-0.875 m/s"'),
    "m/s^2": Asked("meter / second ** 2", 1.0, '"-8.75 m/s^2"'),
    "kg": Asked("kilogram", 1.0, '"2.25 kg"'),
    "N": Asked("kilogram * meter / second ** 2", 1.0, '"-87.5 N"'),
    "N m": Asked("kilogram * meter ** 2 / second ** 2", 1.0, '"-8.75 N m"'),
    "J": Asked("kilogram * meter ** 2 / second ** 2", 1.0, '"87.5 J"'),
    "W": Asked("kilogram * meter ** 2 / second ** 3", 1.0, '"875 W"'),
    "kg m^2": Asked("kilogram * meter ** 2", 1.0, '"2.25 kg m^2"'),
}
WORDED = {"deg": "degrees"}  # units that are written out in a sentence
NEWTON_METRES = re.compile(r"(?<![A-Za-z])([kM]?N)(mm|cm|m)(?![A-Za-z])")  # Nm would be read as nanometres
POWERS = re.compile(r"(?<=[A-Za-z])([23])")  # m/s2, kgm2


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
    text = text.strip().rstrip(".").replace("°", "deg").replace("kgm", "kg m")
    if not text:
        return 1.0, ""
    if not SHAPE.fullmatch(text):
        return None
    text = POWERS.sub(r"^\1", NEWTON_METRES.sub(r"\1*\2", text.replace("·", "*")))
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
