"""The marks that stand in the gradebook: by machine, by hand where somebody has, lateness taken off."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import datetime

from sqlalchemy import select

from .gradebook import Gradebook


@dataclass(frozen=True)
class Mark:
    """The mark of one cell. `given` is None where it is still open."""

    cell: str
    given: float | None
    of: float
    by_hand: bool


@dataclass(frozen=True)
class Line:
    """One student: the marks by cell, what lateness takes, whether something is still open."""

    student: str
    marks: dict[str, Mark] = field(default_factory=dict)
    late: float = 0.0
    submitted: datetime | None = None

    @property
    def of(self) -> float:
        """The marks that there are."""
        return sum(mark.of for mark in self.marks.values())

    @property
    def given(self) -> float:
        """The marks given, without lateness."""
        return round(sum(mark.given or 0.0 for mark in self.marks.values()), 2)

    @property
    def final(self) -> float:
        """What is left when lateness is taken off; never less than nothing."""
        return max(0.0, round(self.given - self.late, 2))

    @property
    def still_open(self) -> int:
        """How many cells wait for somebody."""
        return sum(mark.given is None for mark in self.marks.values())


def lines(book: Gradebook) -> list[Line]:
    """Everybody on the course's list, in the order of the ids; who handed nothing in has no marks."""
    found: dict[str, Line] = {student: Line(student) for student in book.students()}
    for student, late, stamp, mark in _rows(book):
        if not found[student].marks:
            found[student] = Line(student, {}, late or 0.0, stamp)
        found[student].marks[mark.cell] = mark
    return [found[student] for student in sorted(found)]


def _rows(book: Gradebook) -> Iterator[tuple]:
    api = book.api
    grade, cell, notebook, submission = api.Grade, api.GradeCell, api.SubmittedNotebook, api.SubmittedAssignment
    wanted = (
        select(submission.student_id, notebook.late_submission_penalty, submission.timestamp, cell.name, grade.auto_score,
               grade.manual_score, grade.extra_credit, cell.max_score)
        .join_from(grade, notebook, grade.notebook_id == notebook.id)
        .join(submission, notebook.assignment_id == submission.id)
        .join(api.Assignment, submission.assignment_id == api.Assignment.id)
        .join(cell, grade.cell_id == cell.id)
        .where(api.Assignment.name == book.assignment)
        .order_by(submission.student_id)
    )  # fmt: skip
    with book.engine.connect() as db:
        for student, late, stamp, name, by_machine, by_hand, extra, most in db.execute(wanted):
            given = by_machine if by_hand is None else by_hand
            given = given if given is None else given + (extra or 0.0)
            yield student, late, stamp, Mark(name, given, most, by_hand is not None)
