"""Open answers: the dimensions of a linkage, marked by what that linkage does and not by which numbers they are.

A brief looks at a design (`look`: givens and values to what it does, arrays throughout), refuses what does not work at
all (defects), gives marks for how near its aims are met, and takes some off for limits that are passed.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from ..quantity import told_apart
from .answers import Number, Reading
from .listed import Positions
from .tolerance import Tolerance

ABSURD = 20.0  # metres or radians; nothing on the quay is longer, and nothing need be turned further
KNOWN: dict[Callable, dict] = {}  # solutions that were found, by what finds them
NUMBERS = Tolerance(1.2e-3, 1e-4, False, "")  # within which two designs are one and the same: four figures


@dataclass(frozen=True)
class Defect:
    """What makes a design worthless: `there` is where it has it, `says` a sentence about one design."""

    there: Callable
    says: Callable


@dataclass(frozen=True)
class Aim:
    """What is wanted: `off` is how far from it a design is; met within `full`, worth nothing from `none` on."""

    weight: float
    off: Callable
    full: float
    none: float
    says: Callable

    def score(self, seen, g, tight: bool) -> np.ndarray:
        """From 1, met, to 0."""
        full = 0.5 * self.full if tight else self.full
        score = np.clip((self.none - self.off(seen, g)) / (self.none - self.full), 0, 1)
        return np.where(self.off(seen, g) <= full, 1.0, np.nan_to_num(np.minimum(score, 1 - 1e-3 * tight)))


@dataclass(frozen=True)
class Limit:
    """What must not be passed: `over` is by how much it is (negative within), `spare` what a worked solution keeps."""

    cost: float
    over: Callable
    spare: float
    says: Callable

    def broken(self, seen, g, tight: bool) -> np.ndarray:
        """Is it passed? Not a number is."""
        return ~(self.over(seen, g) <= (-self.spare if tight else 0.0))


@dataclass(frozen=True)
class Brief:
    """What a design has to do; see the module."""

    look: Callable
    aims: tuple[Aim, ...]
    limits: tuple[Limit, ...] = ()
    defects: tuple[Defect, ...] = ()

    def share(self, g, values, *, tight: bool = False) -> np.ndarray:
        """The share of the marks of one design or of an array of them (last axis: the rows).

        `tight` asks for some room to spare, so that a solution rounded to four figures is right too.
        """
        values = np.asarray(values, dtype=float)
        sane = np.isfinite(values).all(axis=-1) & (np.abs(values) < ABSURD).all(axis=-1)
        with np.errstate(all="ignore"):
            seen = self.look(g, np.where(sane[..., None], values, np.nan))
            share = sum(aim.weight * aim.score(seen, g, tight) for aim in self.aims) / sum(a.weight for a in self.aims)
            share = share * (1 - sum(limit.cost * limit.broken(seen, g, tight) for limit in self.limits))
            dead = np.any([defect.there(seen, g) for defect in self.defects], axis=0)
        return np.where(sane & ~dead, share, 0.0)

    def sentences(self, g, values) -> list[str]:
        """What is wrong with one design, in words."""
        with np.errstate(all="ignore"):
            seen = self.look(g, values)
            dead = [defect.says(seen, g) for defect in self.defects if defect.there(seen, g)]
            if dead:
                return dead[:1]
            missed = [aim.says(seen, g) for aim in self.aims if aim.score(seen, g, False) < 1]
            return missed + [limit.says(seen, g) for limit in self.limits if limit.broken(seen, g, False)]


@dataclass(frozen=True)
class Designed(Positions):
    """The dimensions of a linkage, one in each of `rows` with its own unit of `units`; see `Positions` and `Brief`.

    `any_sign` names the rows in which zero and negative numbers make sense.
    """

    unit: str = ""
    tolerance: Tolerance = NUMBERS
    units: tuple[str, ...] = ()
    brief: Brief | None = None
    any_sign: tuple[str, ...] = ()
    told: str = ""

    @property
    def numbers(self) -> list[Number]:
        """The kind of answer in each row."""
        return [Number(unit, NUMBERS) for unit in self.units]

    def cells(self, raws: list) -> list[Reading]:
        """The number in each row."""
        return [
            self._sensible(row, kind.read(raw)) for row, kind, raw in zip(self.rows, self.numbers, raws, strict=True)
        ]

    def _sensible(self, row: str, cell: Reading) -> Reading:
        """A length is above zero, and nothing is absurd."""
        if not cell.usable:
            return cell
        if abs(cell.value) >= ABSURD:
            return Reading.refused("absurd", f"{cell.shown[:40]} is far beyond anything on the quay.")
        if cell.value <= 0 and row not in self.any_sign:
            return Reading.refused("no-length", "A length must be above zero.")
        return cell

    def apart(self, right, wrong) -> np.ndarray:
        """Does any row differ?"""
        return self.tolerance.apart(right, wrong).any(axis=-1)

    def shown(self, value) -> list[str]:
        """The number in each row as text."""
        return [number.show(v) for number, v in zip(self.numbers, value, strict=True)]

    def sentence(self) -> str:
        """How it is marked, for the statement."""
        bare = " and ".join(dict.fromkeys({"deg": "degrees"}.get(u, u) for u in self.units))
        return (
            "Your linkage is moved, and what it does is marked: any dimensions that meet the brief are right, and what is met "
            "in part earns a part. One that does not close, or cannot get from one position to the next, earns nothing. "
            f"{self.told} Numbers without a unit are read in {bare}."
        )

    def judged(self, question, givens, reading) -> tuple[float, str, str]:
        """(share of the marks, code, sentence) of one design."""
        value = reading.value
        if not np.isfinite(value).all():
            return 0.0, "rows", f"Without all its dimensions a linkage cannot be moved. {reading.says}"
        share = float(self.brief.share(givens, value))
        if share >= 1:
            return 1.0, "right", "Your linkage does all that the brief asks."
        said = " ".join(self.brief.sentences(givens, value))
        for known in question.misconceptions:
            if self.same(value, question.wrong(known, givens)):
                return share, known.code, f"{known.says} {said}"
        return share, "in-part" if share else "wrong", f"{said} {question.hint}"


def posed(brief: Brief, g, solve: Callable, *wrong: tuple[Callable, float]) -> np.ndarray:
    """For which givens is the question fair?

    The solution has to meet the brief with room to spare, and each wrong design to earn just the share that is stated.
    """
    shape = np.shape(next(iter(g.values.values())))
    fair = np.ones(shape, dtype=bool)
    for design, share in ((solve, 1.0), *wrong):
        if fair.any():
            some = g.at(fair)
            fair[fair] = np.abs(brief.share(some, design(some), tight=share > 0) - share) < 1e-9
    return fair


def distinct(solve: Callable, *columns) -> np.ndarray:
    """Call `solve` for each different row of arrays that broadcast, once and for all; its last axis is its own."""
    together = np.broadcast_arrays(*columns)
    rows = np.stack(together, axis=-1).reshape(-1, len(columns)).astype(float)
    first, place = np.unique(rows, axis=0, return_inverse=True)
    known, keys = KNOWN.setdefault(solve, {}), list(map(tuple, first.tolist()))
    if new := [key for key in keys if key not in known]:
        known.update(zip(new, solve(*np.array(new).T), strict=True))
    found = np.array([known[key] for key in keys])
    return found[place.ravel()].reshape(*together[0].shape, found.shape[-1])


def degrees(angle, *unlike) -> str:
    """An angle as it is read, told apart from others, such as the one that is wanted."""
    return f"{told_apart(*(np.degrees(float(x)) for x in (angle, *unlike)))} degrees"


def mm(length, *unlike) -> str:
    """A length as it is read, told apart from others."""
    return f"{told_apart(*(1000 * float(x) for x in (length, *unlike)))} mm"
