"""An answer that is a formula: compared as mathematics, in whatever form it is written."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from .answers import LONGEST, Reading, blank, named
from .formula import FormulaError, parse, symbols, value_of

TRIALS = 24  # sets of values at which two formulas are compared
STEPS = np.sqrt([2.0, 3.0, 5.0, 7.0, 11.0, 13.0, 17.0, 19.0])  # irrational and unlike: the sets spread evenly
NEAR = 1e-9  # the rounding of a long formula in doubles, with much to spare


@dataclass(frozen=True)
class Symbol:
    """A symbol that the student may use: its name, what it stands for, the range in which it is tried."""

    name: str
    means: str
    low: float
    high: float


@dataclass(frozen=True)
class Expression:
    """A formula in the given `symbols`; the value is its text. With `turn`, whole turns make no difference.

    Two formulas are the same if they come to the same values at many sets of values of the symbols. Two of them that
    differ but agree at all of these could only be built on purpose, and would be longer than is read.
    """

    symbols: tuple[Symbol, ...]
    turn: bool = False
    unit: str = ""

    @property
    def names(self) -> tuple[str, ...]:
        """The names of the symbols."""
        return tuple(symbol.name for symbol in self.symbols)

    def read(self, raw) -> Reading:
        """The formula, or what is wrong with its form."""
        if blank(raw):
            return Reading.refused("blank", "There is no answer here yet.")
        if not isinstance(raw, str):
            return Reading.refused("not-a-formula", f"Write the formula as text, between quotes; this is {named(raw)}.")
        try:
            tree = parse(raw[:LONGEST], self.names)
        except FormulaError as error:
            return Reading.refused("not-a-formula", str(error))
        if not symbols(tree):
            says = f"This is a number. A formula in the symbols is asked for: {', '.join(self.names)}."
            return Reading.refused("no-symbols", says)
        return Reading(raw, raw[:80])

    def values(self, text: str) -> np.ndarray:
        """What a formula comes to at the trial values."""
        return _values(self, str(text))

    def same(self, given, right) -> np.ndarray:
        """Do the formulas come to the same everywhere?"""
        if np.ndim(given) or np.ndim(right):
            return np.array([self.same(a, b) for a, b in np.broadcast(given, right)])
        return np.bool_(_same(self, str(given), str(right)))

    def apart(self, right, wrong) -> np.ndarray:
        """Do the formulas differ?"""
        return ~self.same(wrong, right)

    def show(self, value) -> str:
        """The formula itself."""
        return str(value)

    def typed(self, value) -> str:
        """As a student would write it."""
        return str(value)

    def sentence(self) -> str:
        """The symbols and how it will be compared, for the statement."""
        known = "; ".join(f"{s.name}: {s.means}" for s in self.symbols)
        turns = " Whole turns make no difference." if self.turn else ""
        return (
            f"Symbols: {known}. Write the formula as text, with + - * / ^, brackets, sqrt, sin, cos, tan, asin, acos, "
            f"atan, atan2. Any form that comes to the same is right; angles are in radians.{turns}"
        )

    def stub(self, name: str) -> str:
        """The line that the student changes."""
        return f'{name} = None   # in place of None, for instance: "2*{self.names[0]} + {self.names[-1]}^2"'


@lru_cache(maxsize=4096)
def _same(kind: Expression, given: str, right: str) -> bool:
    """Do two formulas come to the same at all trial values?"""
    one, other = kind.values(given), kind.values(right)
    with np.errstate(invalid="ignore"):
        gap = np.abs(np.angle(np.exp(1j * (one - other)))) if kind.turn else np.abs(one - other)
        return bool((gap <= NEAR * (1 + np.abs(other))).all())


@lru_cache(maxsize=4096)
def _values(kind: Expression, text: str) -> np.ndarray:
    """A formula at the trial values; no value at all where the text is no formula."""
    count = np.arange(1, TRIALS + 1)
    at = {s.name: s.low + (s.high - s.low) * (count * step % 1) for s, step in zip(kind.symbols, STEPS, strict=False)}
    try:
        found = np.asarray(value_of(parse(text, kind.names), at), dtype=float)
    except FormulaError:
        found = np.nan
    values = np.broadcast_to(found, TRIALS).copy()
    values.flags.writeable = False
    return values
