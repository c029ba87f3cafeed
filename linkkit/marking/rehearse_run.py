"""A rehearsal in a scratch course: released by nbgrader, handed in, marked as the cohort will be, marks compared."""

from __future__ import annotations

import os
import warnings
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from ..coursework import find_assignment
from ..coursework.own import look_in
from ..coursework.question import Assignment, Question
from . import stock
from .course import Course
from .gradebook import Gradebook
from .marks import Line, lines
from .rehearse_scripts import Cast, cast, expected
from .scripts import Script

BY = ("linkkit", "nbgrader")  # who marks: the sandboxed marker, or nbgrader's own autograde


class NotReady(RuntimeError):
    """The assignment can't be rehearsed as it stands; the message says what to do."""


@dataclass(frozen=True)
class Outcome:
    """One script after marking: the marks that it got and those that it deserves, by question."""

    script: Script
    deserved: dict[str, float]
    given: dict[str, float | None]
    feedback: bool

    @property
    def total(self) -> float | None:
        """The marks given; None if none were."""
        return (
            round(sum(m or 0.0 for m in self.given.values()), 2)
            if any(m is not None for m in self.given.values())
            else None
        )

    @property
    def differing(self) -> list[str]:
        """The questions with another mark than expected."""
        return [
            q for q, marks in self.deserved.items() if self.given.get(q) is None or abs(self.given[q] - marks) >= 0.005
        ]

    @property
    def agrees(self) -> bool:
        """Are all marks as expected, and is there feedback?"""
        return self.feedback and not self.differing and abs((self.total or 0.0) - self.script.expected) < 0.005


@dataclass(frozen=True)
class Rehearsed:
    """An assignment after its rehearsal."""

    paper: Assignment
    cast: Cast
    outcomes: tuple[Outcome, ...]

    @property
    def agrees(self) -> bool:
        """Are all marks as expected?"""
        return all(outcome.agrees for outcome in self.outcomes)

    def tried(self, question: Question) -> Counter:
        """Which known wrong answers to a question were handed in, and how often."""
        start = f"{question.id}: "
        faults = (o.script.fault for o in self.outcomes)
        return Counter(fault.removeprefix(start) for fault in faults if fault.startswith(start))


def rehearse(name: str, course: Path, scratch: Path, *, ids: int | None = None, hostile: bool = False, by: str = "linkkit",
             workers: int = 1, seen: Callable[[str, int, int], None] = lambda doing, done, of: None) -> Rehearsed:  # fmt: skip
    """Release, hand in and mark in a scratch course.

    Parameters
    ----------
    ids : int, optional
        How many invented ids; as many as leave nothing untried if not given.
    by : str
        One of BY.
    seen : callable
        Told what is being done, and how many of how many scripts are done.

    Raises
    ------
    NotReady, CourseError
        If the assignment is not there, or its notebook lacks a question.
    """
    stock.scratch_course(course, name, scratch)
    look_in(scratch)
    try:
        paper = find_assignment(name)
        check_notebook(paper, scratch / "source" / name / f"{name}.ipynb")
        company = cast(paper, ids, hostile)
        seen("releasing", 0, len(company.scripts))
        stock.nbgrader(scratch, "generate_assignment", name)
        stock.hand_in(scratch, name, company.scripts)
        mark = {"linkkit": _by_linkkit, "nbgrader": _by_nbgrader}[by]
        mark(scratch, name, len(company.scripts), workers, seen)
        return Rehearsed(paper, company, tuple(_outcomes(paper, company, scratch, name)))
    finally:
        look_in(course)


def check_notebook(paper: Assignment, place: Path) -> None:
    """Every question has its answer cell in the source notebook."""
    from .scripts import answer_cell

    text = place.read_text(encoding="utf-8")
    missing = [q.id for q in paper.questions if f'"{answer_cell(q)}"' not in text]
    if missing:
        raise NotReady(
            f"{place.name} does not ask {', '.join(missing)}: write the notebook again, `linkkit lesson {paper.id}.toml --renew`"
        )


def _by_linkkit(scratch: Path, name: str, count: int, workers: int, seen) -> None:
    from .run import Report, cohort, task_of

    course, done = Course.open(scratch), Counter()

    def one(_student: str) -> None:
        done["done"] += 1
        seen("marking", done["done"], count)

    with course.one_writer(), Gradebook(course.db_url, name) as book:
        cohort(course, book, task_of(course, name), Report(), workers=workers, seen=one)


def _by_nbgrader(scratch: Path, name: str, count: int, workers: int, seen) -> None:
    for command, doing, sign in (
        ("autograde", "marking", "Autograding "),
        ("generate_feedback", "writing feedback", "Converting notebook "),
    ):
        done = Counter()

        def line(text: str, done=done, sign=sign, doing=doing) -> None:
            done["done"] += sign in text
            seen(doing, done["done"], count)

        stock.nbgrader(scratch, command, name, seen=line)


def _outcomes(paper: Assignment, company: Cast, scratch: Path, name: str):
    course = Course.open(scratch)
    with warnings.catch_warnings(), Gradebook(course.db_url, name) as book:
        warnings.simplefilter("ignore")
        found = {line.student: line for line in lines(book)}
    for script in company.scripts:
        page = course.page(name, script.student)
        given = _given(paper, found.get(script.student, Line(script.student)))
        yield Outcome(script, expected(paper, script), given, page.is_file() and page.stat().st_size > 0)


def _given(paper: Assignment, line: Line) -> dict[str, float | None]:
    """The marks in the gradebook by question; a graded cell is named for its question and its claim."""
    cells = {q.id: f"{q.id.replace('_', '-')}-is-{q.claim}" for q in paper.questions if not q.marked_by_hand}
    return {q: line.marks[cell].given if cell in line.marks else None for q, cell in cells.items()}


def assignments_of(course: Path) -> list[str]:
    """The assignments of a course, by their source folders."""
    return sorted(p.parent.name for p in course.glob("source/*/*.ipynb") if p.stem == p.parent.name)


def lanes() -> int:
    """How many scripts are marked at a time."""
    return len(os.sched_getaffinity(0))
