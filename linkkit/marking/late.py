"""Late rules and extensions, from a plain file of the course: `late.toml`.

    [default]                      # for every assignment, unless its own table says otherwise
    grace_minutes = 15             # this late costs nothing
    percent_a_day = 10             # of the marks that the script earned, for each day begun
    most_percent = 50              # never more than this

    [four-links]
    due = 2031-03-07T17:00:00Z
    [four-links.extensions]        # another due time for one student
    ab123 = 2031-03-10T17:00:00Z

Without the file, or without `due`, nothing is late.
"""

from __future__ import annotations

import math
import tomllib
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from pathlib import Path

from ..coursework.givens import tidy_id
from ..coursework.papers import OUTLINES

FILE = "late.toml"
DEFAULTS = {"grace_minutes": 0.0, "percent_a_day": 0.0, "most_percent": 100.0}
STAMPS = ("%Y-%m-%d %H:%M:%S.%f %Z", "%Y-%m-%d %H:%M:%S %Z", "%Y-%m-%d %H:%M:%S.%f", "%Y-%m-%d %H:%M:%S")


class LateFileError(ValueError):
    """The file says something that can't be followed."""


@dataclass(frozen=True)
class LateRules:
    """The rules of a course, by assignment: the table `default` and those of assignments."""

    tables: dict[str, dict] = field(default_factory=dict)

    def of(self, assignment: str, what: str) -> float:
        """A number of an assignment's rules."""
        return float({**DEFAULTS, **self.tables.get("default", {}), **self.tables.get(assignment, {})}[what])

    def due(self, assignment: str, student: str) -> datetime | None:
        """When a student's script is due."""
        table = self.tables.get(assignment, {})
        extended = {tidy_id(who): until for who, until in table.get("extensions", {}).items()}
        return extended.get(tidy_id(student), table.get("due"))


def read_rules(course: Path) -> LateRules:
    """The rules of a course; none without the file.

    Raises
    ------
    LateFileError
        With the line or the key, and what would be right.
    """
    place = course / FILE
    if not place.is_file():
        return LateRules()
    try:
        tables = tomllib.loads(place.read_text(encoding="utf-8"))
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        raise LateFileError(f"{place}: {error}") from None
    return LateRules({name: _checked(place, name, table) for name, table in tables.items()})


def _checked(place: Path, name: str, table) -> dict:
    own = (place.parent / "source" / name).is_dir()  # an assignment of the lecturer's
    if isinstance(table, dict) and not own and name not in ("default", *OUTLINES):
        raise LateFileError(f"{place}: there is no assignment {name!r}; there are {', '.join(OUTLINES)}, and [default]")
    if not isinstance(table, dict):
        raise LateFileError(f"{place}: {name!r} stands outside of a table; write it below [default] or [{name}]")
    for key, value in table.items():
        if key in DEFAULTS:
            right = isinstance(value, int | float) and 0 <= value < 1e6
        elif key == "extensions":
            right = isinstance(value, dict) and all(map(_is_time, value.values()))
        else:
            right = key == "due" and _is_time(value)
        if not right:
            known = ", ".join((*DEFAULTS, "due", "extensions"))
            raise LateFileError(f"{place}: [{name}] {key} = {value!r} can't be followed. There are {known}; times are "
                                "written 2031-03-07T17:00:00Z, with their zone")  # fmt: skip
    return table


def _is_time(value) -> bool:
    return isinstance(value, datetime) and value.tzinfo is not None


def when(stamp: str) -> datetime | None:
    """The time in a submission's timestamp file, in UTC where no zone is given; None if there is no such time."""
    for form in STAMPS:
        try:
            return datetime.strptime(stamp.strip(), form).replace(tzinfo=UTC)
        except ValueError:
            continue
    try:
        found = datetime.fromisoformat(stamp.strip())
        return (found if found.tzinfo else found.replace(tzinfo=UTC)).astimezone(UTC)
    except (ValueError, OverflowError):  # the first or the last day of the calendar in another zone
        return None


def days_late(rules: LateRules, assignment: str, student: str, stamp: str) -> int:
    """How many days a script is late, a day that has begun counting whole."""
    due, handed_in = rules.due(assignment, student), when(stamp)
    if due is None or handed_in is None:
        return 0
    late = handed_in - due - timedelta(minutes=rules.of(assignment, "grace_minutes"))
    return max(0, math.ceil(late / timedelta(days=1)))


def penalty(rules: LateRules, assignment: str, student: str, stamp: str, earned: float) -> float:
    """The marks that lateness takes from those that a script earned.

    Examples
    --------
    >>> rules = LateRules({"x": {"due": datetime(2031, 3, 7, 17, tzinfo=UTC), "percent_a_day": 10}})
    >>> penalty(rules, "x", "ab123", "2031-03-08 18:00:00 UTC", 30.0)
    6.0
    """
    share = days_late(rules, assignment, student, stamp) * rules.of(assignment, "percent_a_day")
    return round(earned * min(share, rules.of(assignment, "most_percent"), 100.0) / 100, 2)
