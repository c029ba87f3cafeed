"""Numbers drawn from a student's id: the same id always the same numbers, on any machine and in any version.

The numbers come from BLAKE2b run in counter mode over the text of the id, not from a random generator of a
library,
whose stream may change from one release to the next.
"""

from __future__ import annotations

import hashlib
import unicodedata
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import lru_cache, wraps

import numpy as np

MOST = 1024  # candidates for one id; then we give up: the ranges of the setting are at fault, not the id
AT_ONCE = 16, 4  # candidates of an id that are judged as one array: for one id, and for many
SCALES = {"mm": 1e-3, "deg": np.pi / 180, "rpm": np.pi / 30, "newton": 1.0, "kg": 1.0, "percent": 0.01}
UNIT_WORDS = {"mm": "mm", "deg": "degrees", "rpm": "rev/min", "newton": "N", "kg": "kg", "percent": "%"}


class IllPosedError(ValueError):
    """No fair numbers were found for an id within the bound on tries."""


@dataclass(frozen=True)
class Given:
    """A number (or word) that a student is given: its `name` ends in its unit, `values` may be drawn."""

    name: str
    label: str
    values: tuple

    @property
    def unit(self) -> str:
        """The unit in words, empty for a plain number or a word."""
        return UNIT_WORDS.get(self.name.rpartition("_")[2], "")


@dataclass(frozen=True, eq=False)
class Givens:
    """The numbers of one student (or arrays of them, one entry a student) in one setting.

    ``givens.crank_mm`` is the number as the student reads it; ``givens.crank`` is the same in metres,
    ``givens.crank_angle`` the same as ``givens.crank_angle_deg`` but in radians.
    """

    values: dict
    about: tuple[Given, ...] = field(default=(), repr=False)

    def __getattr__(self, name):
        values = self.__dict__.get("values", {})
        if name in values:
            return values[name]
        for suffix, factor in SCALES.items():
            if f"{name}_{suffix}" in values:
                return values[f"{name}_{suffix}"] * factor
        raise AttributeError(f"there is no number {name!r} here; there are {', '.join(values)}")

    def at(self, index) -> Givens:
        """The givens of one entry, or of a mask of entries, of an array of them."""
        return Givens({name: value[index] for name, value in self.values.items()}, self.about)

    def plain(self) -> dict:
        """As built-in numbers and words, for a file or a pipe."""
        return {name: np.asarray(value).tolist() for name, value in self.values.items()}

    def rows(self) -> list[tuple[str, str, str]]:
        """(label, value with its unit, name) of each number, as the student reads it."""
        return [(g.label, f"{self.values[g.name]} {g.unit}".strip(), g.name) for g in self.about]

    def _repr_markdown_(self) -> str:
        lines = [f"| {label} | **{value}** | `.{name}` |" for label, value, name in self.rows()]
        return "\n".join(["| your numbers | | in code |", "|---|---|---|", *lines])

    def __repr__(self) -> str:
        return "\n".join(f"{label}: {value}" for label, value, _ in self.rows()) or f"Givens({self.values})"


@dataclass(frozen=True)
class Setting:
    """A machine with numbers of the student's own, on which several questions are asked.

    `fits` says which candidates (a Givens of arrays) make a sound machine; the assignment adds that every
    answer
    stands apart from every known wrong one. Raise `version` when what is drawn changes.
    """

    id: str
    version: int
    title: str
    story: str
    givens: tuple[Given, ...]
    fits: Callable[[Givens], np.ndarray]
    machine: Callable | None = None


def kept(function: Callable) -> Callable:
    """Let a function of givens work a machine out once: an answer and its wrong ones ask for the same in turn.

    The last few are kept, so that a cohort takes no more room than a class. With an array beside the givens nothing is.
    """
    once = lru_cache(maxsize=8)(function)

    @wraps(function)
    def either(givens, *more, **named):
        plain = not any(isinstance(part, np.ndarray) for part in (*more, *named.values()))
        return (once if plain else function)(givens, *more, **named)

    return either


def tidy_id(text) -> str:
    """A student id as it is compared: no outer blanks, no matter of case or of the width of letters."""
    return unicodedata.normalize("NFKC", str(text)).strip().casefold()


def stream(words: str, start: int, count: int) -> np.ndarray:
    """`count` 64-bit numbers of the endless stream that belongs to `words`, from the `start`-th on.

    Examples
    --------
    >>> bool((stream("an id", 8, 4) == stream("an id", 0, 12)[8:]).all())
    True
    """
    first, last = start // 8, -(-(start + count) // 8)
    blocks = (hashlib.blake2b(f"{words}|{n}".encode(), digest_size=64).digest() for n in range(first, last))
    return np.frombuffer(b"".join(blocks), dtype="<u8")[start - 8 * first :][:count]


def pick(raw: np.ndarray, many: int) -> np.ndarray:
    """Turn 64-bit numbers into indices 0 .. many - 1 (multiply and shift; the bias is below many / 2**32)."""
    return ((raw >> np.uint64(32)) * np.uint64(many) >> np.uint64(32)).astype(np.intp)


def candidates(setting: Setting, words: str, start: int, many: int) -> dict[str, np.ndarray]:
    """Candidates of the id that `words` contain, from the `start`-th on, as arrays by name."""
    width = len(setting.givens)
    raw = stream(words, start * width, many * width).reshape(many, width)
    return {g.name: np.asarray(g.values)[pick(raw[:, k], len(g.values))] for k, g in enumerate(setting.givens)}


def seed_words(assignment: str, setting: Setting, student: str) -> str:
    """What the numbers of a student depend on, and nothing else."""
    return f"{assignment}|{setting.id}|{setting.version}|{tidy_id(student)}"


def draw(setting: Setting, assignment: str, students, sound: Callable[[Givens], np.ndarray]) -> Givens:
    """The numbers of one student, or of many at once.

    Parameters
    ----------
    students : str or sequence of str
        With a sequence every number is an array, one entry a student.
    sound : callable
        Which of the candidates, in a Givens of arrays, are fair.

    Raises
    ------
    IllPosedError
        When some id has no fair numbers within MOST candidates.
    """
    ids = [students] if isinstance(students, str) else list(students)
    words = [seed_words(assignment, setting, student) for student in ids]
    found: dict[str, np.ndarray] = {}
    waiting = np.arange(len(ids))
    many = AT_ONCE[len(ids) > 1]
    for start in range(0, MOST, many):
        waiting = _settle(setting, words, waiting, (start, many), sound, found)
        if not waiting.size:
            values = {g.name: found[g.name] for g in setting.givens}
            whole = Givens(values, setting.givens)
            return whole.at(0) if isinstance(students, str) else whole
    raise IllPosedError(
        f"no fair numbers in {MOST} tries for {len(waiting)} of {len(ids)} ids, "
        f"{ids[waiting[0]]!r} among "
        f"them, in setting {setting.id!r} of {assignment!r}: widen the ranges or ease what is asked of them"
    )


def _settle(setting, words, waiting, batch, sound, found) -> np.ndarray:
    """Keep the first fair one of a batch of candidates of each id still waiting; say who still waits."""
    drawn = [candidates(setting, words[k], *batch) for k in waiting]
    table = {g.name: np.stack([d[g.name] for d in drawn]) for g in setting.givens}
    flat = Givens({name: value.ravel() for name, value in table.items()}, setting.givens)
    fair = np.broadcast_to(sound(flat), waiting.size * batch[1]).reshape(waiting.size, batch[1])
    done, first = fair.any(axis=1), fair.argmax(axis=1)
    for name, value in table.items():
        slot = found.setdefault(name, np.empty(len(words), dtype=value.dtype))
        slot[waiting[done]] = value[done, first[done]]
    return waiting[~done]
