"""The kinds of answer, and how they are read: value, unit and figures apart, each with its own words.

Reading never runs the student's text and never compares it with anything. What is read are plain values
(numbers,
words, lists and tables of them): `plain` makes them from the objects of a notebook.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from .tolerance import Tolerance
from .units import ASKED, KINDS, Asked, kind_words, si

NUMBER = re.compile(r"\s*([-+−–]?)\s*(\d+[.,]?\d*|[.,]\d+)(?:\s*[eE]([-+]?\d{1,3}))?(?![\d.,])\s*(.*)", re.DOTALL)
LONGEST = 2000  # characters or entries of one answer that are looked at


@dataclass(frozen=True)
class Reading:
    """What an answer says: its `value` (SI, words, a table), the code of a `fault`, the sentence for it."""

    value: object = None
    shown: str = ""
    fault: str = ""
    says: str = ""
    figures: int | None = None
    usable: bool = True

    @classmethod
    def refused(cls, fault: str, says: str) -> Reading:
        """An answer that can't be used at all."""
        return cls(fault=fault, says=says, usable=False)


def plain(value, depth: int = 0):
    """A notebook's object as built-in numbers, words, lists and tables; anything else as its type's name."""
    if value is None or value is Ellipsis or isinstance(value, bool):
        return None if value is Ellipsis else value
    if isinstance(value, str):
        return value[:LONGEST]
    if isinstance(value, (int, float, np.integer, np.floating)):
        return float(value)
    if hasattr(value, "magnitude") and hasattr(value, "units"):
        return [plain(value.magnitude, depth + 1), str(value.units)]
    if depth < 3 and isinstance(value, dict):
        return {str(k)[:80]: plain(v, depth + 1) for k, v in list(value.items())[:LONGEST]}
    if depth < 3 and isinstance(value, (list, tuple, np.ndarray)):
        return (
            [plain(v, depth + 1) for v in list(value)[:LONGEST]] if np.ndim(value) else plain(value.item(), depth + 1)
        )
    return {"not readable": type(value).__name__}


def blank(raw) -> bool:
    """Is there no answer at all?"""
    return raw is None or raw == "" or (isinstance(raw, str) and not raw.strip())


BLANK = Reading.refused("blank", "There is no answer here yet.")


@dataclass(frozen=True)
class Number:
    """A number with a unit: ``"38.4 deg"``, ``(38.4, "deg")`` or a pint quantity; `unit` is asked for."""

    unit: str
    tolerance: Tolerance

    @property
    def asked(self) -> Asked:
        """What is known of the unit asked for."""
        return ASKED[self.unit]

    def read(self, raw) -> Reading:
        """Value (SI), figures and unit, or what is wrong with them."""
        if blank(raw):
            return BLANK
        if isinstance(raw, list) and len(raw) == 2 and isinstance(raw[0], float) and isinstance(raw[1], str):
            return self._with_unit(raw[0], None, raw[1])
        if isinstance(raw, float):
            return self._with_unit(raw, None, "")
        if not isinstance(raw, str):
            return Reading.refused(
                "not-a-number",
                f"Write one number with its unit, as in {self.asked.example}; this is {named(raw)}.",
            )
        return self._from_text(raw)

    def _from_text(self, text: str) -> Reading:
        found = NUMBER.fullmatch(text)
        if not found:
            return Reading.refused(
                "not-a-number",
                f"No number can be read in “{text[:60]}”. Write one number and its unit, as in {self.asked.example}.",
            )
        sign, digits, power, unit = found.groups()
        if re.fullmatch(r"\d{1,3},\d{3}", digits):
            return Reading.refused(
                "comma",
                f"“{digits}” can be read in two ways. Write a point for the decimals and nothing between thousands.",
            )
        value = float(f"{'-' if sign in ('-', '−', '–') and sign else ''}{digits.replace(',', '.')}e{power or 0}")
        return self._with_unit(value, _figures(digits), unit.strip())

    def _with_unit(self, value: float, figures, unit: str) -> Reading:
        if not math.isfinite(value):
            return Reading.refused(
                "not-finite",
                "This is not a finite number: look for a division by zero or a root of something negative.",
            )
        kind, worth = self.asked.kind, self.asked.worth
        shown = f"{value:.6g} {unit}".strip()
        if not unit and self.unit:
            says = f"The unit is missing: {KINDS[kind]} needs one. It is read here as {self.unit}."
            return Reading(value * worth, shown, "no-unit", says, figures)
        known = si(unit)
        if known is None:
            return Reading.refused(
                "unknown-unit",
                f"“{unit[:30]}” is no unit that is known here. Write it as in {self.asked.example}.",
            )
        if known[1] != kind:
            return Reading.refused(
                "other-quantity",
                f"You gave {kind_words(known[1])} ({shown[:60]}); what is asked for is {kind_words(kind)}.",
            )
        return Reading(value * known[0], shown, figures=figures)

    def same(self, given, right) -> np.ndarray:
        """Is a value (SI) the right one, within the tolerance?"""
        return self.tolerance.holds(given, right)

    def apart(self, right, wrong) -> np.ndarray:
        """Can a right and a wrong answer never be taken for each other?"""
        return self.tolerance.apart(right, wrong)

    def show(self, value) -> str:
        """A value (SI) in the unit asked for, with sensible figures."""
        number = float(value) / self.asked.worth
        number = (number + 180) % 360 - 180 if self.tolerance.turn and abs(number) > 360 else number
        return f"{number:.4g} {self.unit}".strip()

    def typed(self, value) -> str:
        """As a student would write it."""
        return self.show(value)

    def sentence(self) -> str:
        """How it will be compared, for the statement."""
        unit = {"": "", "deg": "Give the unit (degrees or radians). "}.get(self.unit, "Give the unit. ")
        turns = "Whole turns make no difference. " if self.tolerance.turn else ""
        return f"{unit}{turns}{self.tolerance.sentence(self.unit)}"

    def stub(self, name: str) -> str:
        """The line that the student changes."""
        return f"{name} = None   # in place of None, for instance: {self.asked.example}"


@dataclass(frozen=True)
class Choice:
    """One of a few `options`, written out."""

    options: tuple[str, ...]

    def read(self, raw) -> Reading:
        """The option that was written, whatever its capitals, blanks and hyphens."""
        if blank(raw):
            return BLANK
        if not isinstance(raw, str):
            return Reading.refused("not-an-option", f"Write one of the options between quotes; this is {named(raw)}.")
        found = {loose(option): option for option in self.options}.get(loose(raw))
        if found is None:
            return Reading.refused(
                "not-an-option", f"“{raw[:60]}” is none of the options. They are: {'; '.join(self.options)}."
            )
        return Reading(found, found)

    def same(self, given, right) -> np.ndarray:
        """Is it the right option?"""
        return np.asarray(given) == np.asarray(right)

    def apart(self, right, wrong) -> np.ndarray:
        """Is the wrong option another than the right one?"""
        return ~self.same(wrong, right)

    def show(self, value) -> str:
        """The option itself."""
        return str(value)

    def typed(self, value) -> str:
        """As a student would write it."""
        return str(value)

    def sentence(self) -> str:
        """The options, for the statement."""
        return f"Answer with one of: {'; '.join(self.options)}."

    def stub(self, name: str) -> str:
        """The line that the student changes."""
        return f"{name} = None   # in place of None: one of the options, between quotes"


@dataclass(frozen=True)
class Table:
    """One word of `options` for each of `rows`. The value is a tuple of them in the order of the rows."""

    rows: tuple[str, ...]
    options: tuple[str, ...]

    def read(self, raw) -> Reading:
        """The word in each row; a row that is missing or unreadable is None, and said."""
        if blank(raw) or raw == dict.fromkeys(self.rows, ""):
            return BLANK
        if not isinstance(raw, dict) or "not readable" in raw:
            return Reading.refused(
                "not-a-table", f"Fill in the table as it stands, between the braces; this is {named(raw)}."
            )
        table = {loose(name): word for name, word in raw.items()}
        cells = [Choice(self.options).read(table.get(loose(row))) for row in self.rows]
        poor = [f"{row}: {cell.says}" for row, cell in zip(self.rows, cells, strict=True) if not cell.usable]
        shown = "; ".join(f"{row}: {cell.shown or '?'}" for row, cell in zip(self.rows, cells, strict=True))
        return Reading(tuple(cell.value for cell in cells), shown, "rows" if poor else "", " ".join(poor))

    def same(self, given, right):
        """Are all rows right?"""
        return each_of(lambda a, b: a == b, given, right)

    def apart(self, right, wrong):
        """Does any row differ?"""
        return ~self.same(wrong, right)

    def parts(self, given, right) -> tuple[int, int]:
        """How many rows are right, and of how many."""
        return sum(a == b for a, b in zip(given, right, strict=True)), len(self.rows)

    def show(self, value) -> str:
        """Row by row."""
        return "; ".join(f"{row}: {word}" for row, word in zip(self.rows, value, strict=True))

    def typed(self, value) -> dict:
        """As a student would write it."""
        return dict(zip(self.rows, value, strict=True))

    def sentence(self) -> str:
        """The words that may be used, for the statement."""
        return f"For each, one of: {'; '.join(self.options)}. Each row counts."

    def stub(self, name: str) -> str:
        """The table that the student fills in."""
        return f"{name} = {{\n" + "".join(f'    "{row}": "",\n' for row in self.rows) + "}"


@dataclass(frozen=True)
class Function:
    """A function that the student writes, called with inputs that are drawn when it is marked."""

    name: str
    heading: str
    tolerance: Tolerance
    inputs: Callable[[np.ndarray], np.ndarray]
    unit: str = ""
    many: int = 12

    def read(self, raw) -> Reading:
        """The values that it returned, or what went wrong when it was called."""
        if blank(raw):
            return Reading.refused("blank", f"There is no function {self.name} yet.")
        if isinstance(raw, dict):
            return Reading.refused("failed", f"{self.name} could not be called: {raw.get('failed', named(raw))}")
        if not isinstance(raw, list) or len(raw) != self.many:
            return Reading.refused("failed", f"{self.name} could not be called.")
        failed = next((str(v["failed"]) for v in raw if isinstance(v, dict) and "failed" in v), None)
        values = np.array([v if isinstance(v, float) and math.isfinite(v) else math.nan for v in raw])
        if not np.isfinite(values).any():
            return Reading.refused("failed", f"{self.name} returned no number. {failed or 'Is there a return line?'}")
        return Reading(values, f"{np.isfinite(values).sum()} numbers from {self.many} calls", says=str(failed or ""))

    def same(self, given, right) -> np.ndarray:
        """Is every value right? The last axis runs over the inputs."""
        return self.tolerance.holds(given, right).all(axis=-1)

    def apart(self, right, wrong) -> np.ndarray:
        """Do at least a quarter of the values differ?"""
        return self.tolerance.apart(right, wrong).mean(axis=-1) >= 0.25

    def right_share(self, given, right) -> float:
        """The share of the calls that were right."""
        return float(self.tolerance.holds(given, right).mean())

    def show(self, value) -> str:
        """A few of the values."""
        return ", ".join(f"{v:.6g}" for v in np.ravel(value)[:4])

    def sentence(self) -> str:
        """How it will be compared, for the statement."""
        return f"It is called with {self.many} inputs that you don't see. {self.tolerance.sentence(self.unit)}"

    def stub(self, name: str) -> str:
        """The heading and docstring of the function."""
        return self.heading

    def call(self, function, inputs) -> list | dict | None:
        """What the student's function returns for each input, failures as words; it runs their code."""
        if function is None:
            return None
        if not callable(function):
            return {"failed": f"{self.name} is not a function but {type(function).__name__}."}
        return [_called(function, float(x)) for x in inputs]


def _called(function, x):
    """One call: the number, or what was wrong with it."""
    try:
        value = function(x)
        return float(value)
    except KeyboardInterrupt:
        raise
    except BaseException as error:
        return {"failed": f"It stopped with {type(error).__name__}: {str(error)[:200] or 'no more is said'}."}


def _figures(digits: str) -> int:
    """The significant figures of a number as written, at the least: the last zeros of 250 may only hold its place."""
    whole = digits if re.search(r"[.,]", digits) else digits.rstrip("0")
    return len(re.sub(r"\D", "", whole).lstrip("0")) or 1


def loose(text) -> str:
    """A word as it is compared: without capitals, and blanks, hyphens and underscores all alike."""
    return " ".join(re.sub(r"[\s_\-‐–]+", " ", str(text)).split()).casefold()


def named(raw) -> str:
    """What a plain value is, in words."""
    if isinstance(raw, dict):
        return f"an object of type {raw['not readable']}" if "not readable" in raw else "a table"
    return {list: "a list", str: "text", float: "a number", bool: "True or False"}.get(type(raw), "something else")


def each_of(compare, first, second):
    """Compare two tables, or arrays of tables held as objects."""
    if isinstance(first, np.ndarray) or isinstance(second, np.ndarray):
        return np.array([compare(tuple(a), tuple(b)) for a, b in zip(first, second, strict=True)])
    return np.bool_(compare(tuple(first), tuple(second)))
