"""The marked scripts of a course as feedback pages need them: from the history, the gradebook and what was handed in."""

from __future__ import annotations

from ..coursework.question import Assignment
from ..marking import handed_in
from ..marking.course import Course, write_whole
from ..marking.gradebook import Gradebook
from ..marking.history import Entry
from ..marking.marks import Line, lines
from ..marking.rebuild import BrokenNotebook, Master, rebuild
from ..marking.scripts import answer_cell
from .feedback import Script, feedback_page


def marked_scripts(course: Course, assignment: Assignment) -> dict[str, Script]:
    """Every script that has been marked, by student."""
    with Gradebook(course.db_url, assignment.id) as book:
        latest, marks = book.latest(), {line.student: line for line in lines(book)}
    return {student: script(course, assignment, entry, marks.get(student)) for student, entry in latest.items()}


def script(course: Course, assignment: Assignment, entry: Entry, line: Line | None) -> Script:
    """One marked script."""
    asked = {cell: question_of(assignment, cell) for cell in entry.verdicts}
    given = line.marks if line else {}
    by_hand = {asked[cell]: mark.given for cell, mark in given.items() if asked.get(cell) and mark.by_hand}
    return Script(
        verdicts={asked[cell]: verdict for cell, verdict in entry.verdicts.items() if asked[cell]},
        by_hand=by_hand,
        drawings=drawings(course, assignment, entry.student),
        said=entry.said,
        fault=entry.fault,
        late=entry.late,
    )


def question_of(assignment: Assignment, cell: str) -> str:
    """The question that a marked cell belongs to; empty if there is none any more."""
    names = {f"{q.id.replace('_', '-')}-is-{q.claim}": q.id for q in assignment.questions}
    names |= {f"{q.id.replace('_', '-')}-answer": q.id for q in assignment.questions if q.marked_by_hand}
    return names.get(cell, "")


def drawings(course: Course, assignment: Assignment, student: str) -> dict[str, list[tuple[str, str, str]]]:
    """What the student attached to the cells in which a drawing is asked for."""
    asked = [q for q in assignment.questions if q.marked_by_hand and q.picture]
    handed = handed_in.read(course.place, assignment.id, student) if asked else None
    if handed is None or handed.fault:
        return {}
    try:
        rebuilt = rebuild(Master.read(course.master(assignment.id)), handed.notebook)
    except BrokenNotebook:
        return {}
    return {q.id: _attached(rebuilt.pictures.get(answer_cell(q), {})) for q in asked}


def _attached(bundles: dict[str, dict[str, str]]) -> list[tuple[str, str, str]]:
    return [(kind, data, file) for file, bundle in bundles.items() for kind, data in bundle.items()]


def write_feedback(course: Course, assignment: Assignment, students: list[str], place, answers: bool) -> dict[str, str]:
    """Write the pages of these students (all who were marked if none are named); who could not be given one, and why.

    Parameters
    ----------
    place : callable
        student -> the path of the page.
    """
    found, poor = marked_scripts(course, assignment), {}
    for student in students or sorted(found):
        if student in found:
            write_whole(place(student), feedback_page(assignment, student, found[student], answers=answers))
        else:
            poor[student] = "nothing of theirs has been marked; run `linkkit mark` first"
    return poor
