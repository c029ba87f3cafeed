"""The scripts of an assignment as a table: first attempts only, each in its latest marking."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from datetime import datetime

import numpy as np

from ..coursework.question import Assignment
from ..marking import history
from ..marking.gradebook import Gradebook
from ..marking.history import Entry
from ..marking.late import when
from ..marking.marks import lines
from ..solutions.scripts import question_of

NEARLY_ALL = 0.9  # of the scripts: an item marked in fewer is left out of the totals


@dataclass(frozen=True)
class Attempts:
    """First attempts: marks and codes, one row a script and one column a question of `questions`.

    `marks` is nan where nothing was marked (yet). `of` are the marks that each question can earn. `times` are those of
    handing in, None where unknown. `several` is how many students handed in more than one script.
    """

    students: tuple[str, ...]
    questions: tuple[str, ...]
    marks: np.ndarray
    codes: np.ndarray
    of: np.ndarray
    times: tuple[datetime | None, ...]
    several: int
    left_out: int

    @property
    def shares(self) -> np.ndarray:
        """The share of its marks that each answer earned."""
        return self.marks / self.of

    @property
    def counted(self) -> np.ndarray:
        """Which questions are marked in nearly all scripts, so that totals can hold them."""
        if not len(self.students):
            return np.zeros(len(self.questions), dtype=bool)
        return np.isfinite(self.marks).mean(axis=0) >= NEARLY_ALL

    @property
    def complete(self) -> np.ndarray:
        """The marks of the counted questions, of the scripts in which all of these are marked."""
        marks = self.marks[:, self.counted]
        return marks[np.isfinite(marks).all(axis=1)]


def read_attempts(book: Gradebook, assignment: Assignment) -> Attempts:
    """The first attempts in a course's gradebook."""
    with book.engine.connect() as db:
        entries = history.every(db, assignment.id)
    by_hand = {line.student: {cell: m.given for cell, m in line.marks.items() if m.by_hand} for line in lines(book)}
    return first_attempts(assignment, entries, by_hand)


def first_attempts(assignment: Assignment, entries: list[Entry], by_hand: dict[str, dict[str, float]]) -> Attempts:
    """The first script of each student that could be marked, in the form in which it was marked last.

    Parameters
    ----------
    entries : list of Entry
        Of the history, the oldest first.
    by_hand : dict of student to dict of cell to marks
        What stands in the gradebook by hand. It belongs to the last script, so it counts only where there is one.
    """
    scripts: dict[str, dict[str, Entry]] = {}
    for entry in entries:
        if not entry.fault:
            scripts.setdefault(entry.student, {})[entry.script_hash] = entry
    first = {student: next(iter(found.values())) for student, found in scripts.items()}
    alone = {student for student, found in scripts.items() if len(found) == 1}
    rows = [_row(assignment, entry, by_hand.get(s, {}) if s in alone else {}) for s, entry in sorted(first.items())]
    names, count = tuple(q.id for q in assignment.questions), len(assignment.questions)
    return Attempts(
        students=tuple(sorted(first)),
        questions=names,
        marks=np.array([[row.get(q, (np.nan, ""))[0] for q in names] for row in rows], dtype=float).reshape(-1, count),
        codes=np.array([[row.get(q, (np.nan, ""))[1] for q in names] for row in rows], dtype=object).reshape(-1, count),
        of=np.array([q.marks for q in assignment.questions], dtype=float),
        times=tuple(when(first[s].stamp) for s in sorted(first)),
        several=sum(len(found) > 1 for found in scripts.values()),
        left_out=len({e.student for e in entries} - set(first)),
    )


def _row(assignment: Assignment, entry: Entry, by_hand: dict[str, float]) -> dict[str, tuple[float, str]]:
    """(marks, code) of one script by question."""
    found = {}
    for cell, verdict in entry.verdicts.items():
        given = by_hand.get(cell, verdict.marks)
        found[question_of(assignment, cell)] = (np.nan if given is None else given, verdict.code)
    return found


def code_counts(attempts: Attempts) -> list[Counter]:
    """How often each verdict was given, a counter a question."""
    return [Counter(code for code in column if code) for column in attempts.codes.T]
