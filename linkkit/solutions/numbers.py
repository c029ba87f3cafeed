"""A worked solution for numbers from a file: where a tutor has the numbers of a script and not the id.

# numbers.toml: a table for each machine, its numbers as they stand in the student's notebook
[net-shaker]
ground_mm = 250
crank_mm = 60
coupler_mm = 200
rocker_mm = 170
crank_angle_deg = 40
"""

from __future__ import annotations

import math
import tomllib
from dataclasses import replace
from pathlib import Path

import numpy as np

from ..coursework.givens import Given, Givens, Setting
from ..coursework.question import Assignment


class NumbersError(ValueError):
    """The file can't be used; the message says which number, and what would be right."""


def with_numbers(assignment: Assignment, path: Path) -> tuple[Assignment, str]:
    """The part of the assignment that the file has numbers for, and the name under which they stand in it.

    Raises
    ------
    NumbersError
        If the file can't be read, or a machine or number is unknown, missing, or makes no sound machine.
    """
    try:
        tables = tomllib.loads(path.read_text(encoding="utf-8"))
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        raise NumbersError(f"{path}: {error}") from None
    known = {setting.id: setting for setting in assignment.settings}
    strange = [name for name in tables if name not in known]
    if strange or not tables:
        what = f"[{strange[0]}] is no machine of {assignment.id}" if strange else "there are no numbers in it"
        raise NumbersError(f"{path}: {what}; its machines are {', '.join(f'[{name}]' for name in known)}")
    name = path.name.casefold()
    seen = {(id_, name): _givens(path, known[id_], table) for id_, table in tables.items()}
    settings = tuple(s for s in assignment.settings if s.id in tables)
    asked = tuple(q for q in assignment.questions if q.setting in tables)
    return replace(assignment, settings=settings, questions=asked, seen=seen), name


def _givens(path: Path, setting: Setting, table) -> Givens:
    """The numbers of one machine, looked over."""
    wanted = {given.name: given for given in setting.givens}
    if not isinstance(table, dict) or set(table) != set(wanted):
        raise NumbersError(f"{path}: [{setting.id}] needs exactly {', '.join(wanted)}")
    values = {name: np.array([_value(path, setting, given, table[name])]) for name, given in wanted.items()}
    arrays = Givens(values, setting.givens)
    with np.errstate(all="ignore"):
        fair = bool(np.all(setting.fits(arrays)))
    if not fair:
        raise NumbersError(f"{path}: the numbers of [{setting.id}] make no machine that could be asked about: it does not "
                           "assemble, or is near a limit position. Compare them with the student's notebook")  # fmt: skip
    return arrays.at(0)


def _value(path: Path, setting: Setting, given: Given, value):
    """One number or word."""
    words = isinstance(given.values[0], str)
    good = value in given.values if words else _is_number(value)
    if not good:
        right = f"one of {', '.join(map(str, dict.fromkeys(given.values)))}" if words else "a finite number"
        raise NumbersError(f"{path}: [{setting.id}] {given.name} = {value!r} should be {right}")
    return value


def _is_number(value) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and math.isfinite(value)
