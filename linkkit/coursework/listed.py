"""Answers in rows: a number at each of several positions, and the four-link chains of a machine."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .answers import Choice, Number, Reading, blank, each_of, loose, named
from .tolerance import Tolerance
from .units import WORDED

PARTS = ("kind", "fixed", "input", "coupler", "output")
CHAIN_KINDS = ("four-bar", "slider-crank", "inverted slider-crank", "double slider")
MOST_CHAINS = 12  # that are read


@dataclass(frozen=True)
class Positions:
    """A number for each of `rows`. The value is an array (SI); its last axis runs over the rows."""

    rows: tuple[str, ...]
    unit: str
    tolerance: Tolerance

    @property
    def number(self) -> Number:
        """The kind of answer in each row."""
        return Number(self.unit, self.tolerance)

    def read(self, raw) -> Reading:
        """The number in each row; one that is missing or unreadable is nan, and said. A bare number is in `unit`."""
        if isinstance(raw, list) and len(raw) == len(self.rows):
            raw = dict(zip(self.rows, raw, strict=True))
        if blank(raw):
            return Reading.refused("blank", "There is no answer here yet.")
        if not isinstance(raw, dict) or "not readable" in raw:
            return Reading.refused(
                "not-a-table", f"Fill in the table as it stands, a number in each row; this is {named(raw)}."
            )
        table = {loose(name): number for name, number in raw.items()}
        cells = self.cells([table.get(loose(row)) for row in self.rows])
        if all(cell.fault == "blank" for cell in cells):
            return Reading.refused("blank", "There is no answer here yet.")
        return self._rows(cells)

    def cells(self, raws: list) -> list[Reading]:
        """The number in each row."""
        return [self.number.read(raw) for raw in raws]

    def _rows(self, cells: list[Reading]) -> Reading:
        pairs = list(zip(self.rows, cells, strict=True))
        poor = [f"{row}: {cell.says}" for row, cell in pairs if not cell.usable]
        shown = "; ".join(f"{row}: {cell.shown or '?'}" for row, cell in pairs)
        values = np.array([cell.value if cell.usable else np.nan for cell in cells])
        return Reading(values, shown, "rows" if poor else "", " ".join(poor[:3]))

    def same(self, given, right) -> np.ndarray:
        """Are all rows right?"""
        return self.tolerance.holds(given, right).all(axis=-1)

    def apart(self, right, wrong) -> np.ndarray:
        """Do at least a quarter of the rows differ?"""
        return self.tolerance.apart(right, wrong).mean(axis=-1) >= 0.25

    def parts(self, given, right) -> tuple[int, int]:
        """How many rows are right, and of how many."""
        return int(self.tolerance.holds(given, right).sum()), len(self.rows)

    def shown(self, value) -> list[str]:
        """The number in each row as text."""
        return [self.number.show(v) for v in value]

    def show(self, value) -> str:
        """Row by row."""
        return "; ".join(f"{row}: {text}" for row, text in zip(self.rows, self.shown(value), strict=True))

    def typed(self, value) -> dict:
        """As a student would write it."""
        return dict(zip(self.rows, self.shown(value), strict=True))

    def sentence(self) -> str:
        """How it will be compared, for the statement."""
        unit = f" A number without a unit is read in {WORDED.get(self.unit, self.unit)}." if self.unit else ""
        return f"Each row counts.{unit} {self.tolerance.sentence(self.unit)}"

    def stub(self, name: str) -> str:
        """The table that the student fills in."""
        return f"{name} = {{\n" + "".join(f'    "{row}": None,\n' for row in self.rows) + "}"


@dataclass(frozen=True)
class ChainList:
    """The four-link chains of a machine in the order in which they are solved, each a word for each of PARTS.

    The value is a tuple of tuples of words. `links` are the names that may stand for a link.
    """

    links: tuple[str, ...]
    kinds: tuple[str, ...] = CHAIN_KINDS

    def read(self, raw) -> Reading:
        """The chains; a word that is none of those allowed is None, and said."""
        if blank(raw) or (isinstance(raw, list) and not any(self._filled(chain) for chain in raw)):
            return Reading.refused("blank", "There is no answer here yet.")
        if not isinstance(raw, list) or not all(isinstance(chain, dict) for chain in raw):
            return Reading.refused(
                "not-chains", f"Write a list, a line a chain as in the one there; this is {named(raw)}."
            )
        chains = [self._chain(chain) for chain in raw[:MOST_CHAINS] if self._filled(chain)]
        poor = [f"Chain {n}, {cell}" for n, (_, says) in enumerate(chains, 1) for cell in says]
        value = tuple(words for words, _ in chains)
        return Reading(value, self.show(value), "chains" if poor else "", " ".join(poor[:3]))

    @staticmethod
    def _filled(chain) -> bool:
        return not isinstance(chain, dict) or any(word not in (None, "") for word in chain.values())

    def _chain(self, chain: dict) -> tuple[tuple, list[str]]:
        """The five words of one chain, and what is wrong with some of them."""
        given = {loose(part): word for part, word in chain.items()}
        cells = {part: self._options(part).read(given.get(part)) for part in PARTS}
        says = [f"{part}: {cell.says}" for part, cell in cells.items() if not cell.usable]
        return tuple(cell.value for cell in cells.values()), says

    def _options(self, part: str) -> Choice:
        return Choice(self.kinds if part == "kind" else self.links)

    def same(self, given, right):
        """Are they the same chains in the same order?"""
        return each_of(lambda a, b: a == b, given, right)

    def apart(self, right, wrong):
        """Does any word differ?"""
        return ~self.same(wrong, right)

    def parts(self, given, right) -> tuple[int, int]:
        """How many words are right, and of how many; chains too many or too few count as wrong words."""
        of = len(PARTS) * max(len(given), len(right))
        return sum(
            a == b for one, other in zip(given, right, strict=False) for a, b in zip(one, other, strict=True)
        ), of

    def show(self, value) -> str:
        """Chain by chain."""
        chains = (
            ", ".join(f"{part} {word or '?'}" for part, word in zip(PARTS, chain, strict=True)) for chain in value
        )
        return "; ".join(f"chain {n}: {words}" for n, words in enumerate(chains, 1))

    def typed(self, value) -> list[dict]:
        """As a student would write it."""
        return [dict(zip(PARTS, chain, strict=True)) for chain in value]

    def sentence(self) -> str:
        """The words that may be used, for the statement."""
        return (
            f"A line for each chain, in the order in which they are solved. Kinds: {'; '.join(self.kinds)}. "
            f"Links: {'; '.join(self.links)}. Each word counts, and a chain too many counts against you."
        )

    def stub(self, name: str) -> str:
        """The line that the student fills in and repeats."""
        line = ", ".join(f'"{part}": ""' for part in PARTS)
        return f"{name} = [\n    {{{line}}},\n]   # one such line for each chain"
