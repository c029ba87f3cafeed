"""The masses in a machine file.

    [masses.rod]
    mass_kg = 1.8
    centre = [30, 44]
    inertia_kg_m2 = 0.011

`centre` is the name of a point of the link or a place in the sketch; `along` and `across`, from the link's first
point, may stand instead. With neither centre nor inertia the link is a uniform bar between its first two points, or
a lump at its only point.
"""

from __future__ import annotations

from decimal import Decimal

import numpy as np

from .errors import LinkageError
from .linkage import Linkage
from .masses import Mass, masses_of

KEYS = {"mass_kg", "centre", "along", "across", "inertia_kg_m2"}


def read_masses(reader, linkage) -> dict:
    """{link: Mass} from the [masses] tables of a file."""
    return {link: _mass(reader, linkage, link, table) for link, table in reader.section("masses", {}).items()}


def _mass(reader, linkage: Linkage, link, table):
    line = reader.line("masses", link)
    if link not in linkage.links:
        reader.fail(line, f"[masses.{link}]: there is no link {link}; there are {', '.join(linkage.links)}")
    reader._table("masses", link, table, KEYS)
    numbers = {key: _number(reader, link, table, key) for key in KEYS - {"centre"} if key in table}
    if "mass_kg" not in numbers:
        reader.fail(line, f"[masses.{link}] must say mass_kg, a number of kilograms")
    given = {"inertia": float(numbers.get("inertia_kg_m2", 0.0))}
    if "centre" in table:
        given["at"] = _centre(reader, link, table["centre"])
    if "along" in numbers or "across" in numbers:
        given |= {key: reader.metres(numbers.get(key, 0)) for key in ("along", "across")}
    try:
        made = Mass(float(numbers["mass_kg"]), **given)
        if set(table) == {"mass_kg"}:
            return masses_of(linkage, {link: made.mass})[link]
        made.centre(linkage, link)
    except LinkageError as error:
        reader.fail(line, str(error))
    return made


def _centre(reader, link, given):
    if isinstance(given, str):
        return given
    return reader.spot("masses", link, given)


def _number(reader, link, table, key):
    value = table[key]
    if isinstance(value, bool) or not isinstance(value, (int, Decimal)) or not Decimal(value).is_finite():
        reader.fail(reader.line("masses", link), f"[masses.{link}]: {key} must be a number, not {value!r}")
    return value


def mass_table(mass, exact) -> dict:
    """The table of one link's mass; `exact` writes metres in the file's unit."""
    if any(np.ndim(x) for x in (mass.mass, mass.inertia, mass.at) if x is not None):
        raise LinkageError("a machine file holds one linkage, not a family: a mass is an array")
    made = {"mass_kg": float(mass.mass)}
    if isinstance(mass.at, str):
        made["centre"] = mass.at
    elif mass.at is not None:
        made["centre"] = [exact(complex(mass.at).real), exact(complex(mass.at).imag)]
    elif mass.along is not None:
        made |= {"along": exact(mass.along), "across": exact(mass.across)}
    return made | {"inertia_kg_m2": float(mass.inertia)}
