"""A marking run over a cohort: who is marked and who is not, the writing, and what there is to report at the end."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field, replace
from functools import cache

from ..coursework import find_assignment
from ..coursework.key import make_key
from . import feedback, handed_in, lanes
from .by_hand import hidden_from_students
from .course import Course, CourseError, write_whole
from .gradebook import Gradebook
from .handed_in import HandedIn
from .history import Entry
from .late import penalty, read_rules
from .numbers import with_numbers
from .one_script import FAILED, MARKER, Marked, Task
from .rebuild import Master
from .showable import line

FIRST = "first marking"
NO_ID = "the name of the folder is no id: it is too long, or has signs in it that can't be seen"


@dataclass
class Report:
    """What became of every id on the list."""

    marked: dict[str, float | None] = field(default_factory=dict)
    as_before: list[str] = field(default_factory=list)
    not_submitted: list[str] = field(default_factory=list)
    not_marked: dict[str, str] = field(default_factory=dict)
    in_part: dict[str, str] = field(default_factory=dict)
    odd: dict[str, tuple[str, ...]] = field(default_factory=dict)


def task_of(course: Course, assignment: str, credit: bool = True) -> Task:
    """What every lane is told."""
    master, rules = course.master(assignment), read_rules(course.place)
    beside = hidden_from_students(course.place, find_assignment(assignment))
    return Task(assignment, master, make_key(course.place), rules, credit=credit, beside=beside)


@cache
def versions_of(assignment: str) -> dict:
    """The versions that a mark depends on, for the history."""
    from importlib.metadata import version

    questions = {q.id: q.version for q in find_assignment(assignment).questions}
    return {"linkkit": version("linkkit"), "marker": MARKER, "questions": questions}


def worth_marking(course: Course, book: Gradebook | None, task: Task, students: Iterable[str], again: bool,
                  report: Report) -> Iterator[HandedIn]:  # fmt: skip
    """The scripts that are to be marked; those that were, in just this form and by this marker, are left out."""
    known = book.latest() if book and not again else {}
    for student in students:
        handed = handed_in.read(course.place, task.assignment, student)
        last = known.get(student)
        same = last and (last.script_hash, last.fingerprint, last.stamp) == (
            handed.hash,
            task.fingerprint,
            handed.stamp,
        )
        if same and course.written(task.assignment, student) and not last.fault.startswith(FAILED):
            if book:
                follow_late_rules(course, book, task, last)
            report.as_before.append(student)
            _note(report, student, last.marks, last.verdicts, last.said, last.fault)
        else:
            yield handed


def follow_late_rules(course: Course, book: Gradebook, task: Task, last: Entry) -> None:
    """Where the late rules now take other marks than were taken, put that into the gradebook and on the page."""
    late = penalty(task.late, task.assignment, last.student, last.stamp, last.marks or 0.0)
    if late == last.late:
        return
    graded = list(Master.read(task.master).roles("graded").values())
    page = feedback.page(find_assignment(task.assignment), graded, last.student, last.verdicts, last.said, last.fault, late,
                         last.stopped)  # fmt: skip
    write_whole(course.page(task.assignment, last.student), page)
    book.record(replace(last, late=late, reason="the late rules changed"))


def cohort(course: Course, book: Gradebook | None, task: Task, report: Report, *, only: str | None = None,
           again: bool = False, workers: int = 1, cluster: str | None = None, reason: str = "",
           seen: Callable[[str], None] = lambda student: None) -> Report:  # fmt: skip
    """Mark a cohort; every result is saved as it comes.

    Parameters
    ----------
    book : Gradebook or None
        None where it is not for credit: then only pages are written.
    seen : callable
        Told each id when it is done with.
    """
    there = set(handed_in.students(course.place, task.assignment))
    no_ids = {name for name in there if not handed_in.can_be_id(name)}
    report.not_marked |= {line(name, handed_in.LONGEST_ID): NO_ID for name in sorted(no_ids)}
    there -= no_ids
    listed = sorted({*there, *(book.students() if book else [])})
    if only is not None and only not in listed:
        raise CourseError(f"there is no student {only}: the id is not on the course's list and handed nothing in")
    wanted = [only] if only is not None else listed
    report.not_submitted += [student for student in wanted if student not in there]
    here = [student for student in wanted if student in there]
    scripts = worth_marking(course, book, task, here, again, report)
    scripts = with_numbers(find_assignment(task.assignment), here, scripts)
    if cluster:
        from .cluster import on_cluster

        results = on_cluster(task, scripts, cluster)
    else:
        results = lanes.in_order_of_finish(task, scripts, workers)
    for result in results:
        seen(_settle(course, book, task, report, result, reason))
    return report


def _settle(course, book, task, report: Report, result, reason: str) -> str:
    """Save and note one result; whose it was."""
    if not isinstance(result, Marked):
        handed, why = result
        report.not_marked[handed.student] = why
        return handed.student
    keep(course, book, task, result, reason)
    report.marked[result.student] = result.marks
    _note(report, result.student, result.marks, result.verdicts, result.said, result.fault)
    return result.student


def keep(course: Course, book: Gradebook | None, task: Task, marked: Marked, reason: str) -> None:
    """Write a script's pages, then its marks. A kill between the two leaves it unmarked, and it is marked again."""
    if book is None:
        write_whole(course.place / "not-for-credit" / task.assignment / f"{marked.student}.html", marked.page)
        return
    write_whole(course.marked_notebook(task.assignment, marked.student), marked.notebook)
    write_whole(course.page(task.assignment, marked.student), marked.page)
    for name, text in handed_in.slips(course.place, task.assignment, marked.student).items():
        write_whole(course.page(task.assignment, marked.student).with_name(name), text)
    late = penalty(task.late, task.assignment, marked.student, marked.stamp, marked.marks or 0.0)
    book.save(marked, reason=reason or FIRST, versions=versions_of(task.assignment), late=late)


def _note(report: Report, student: str, marks, verdicts, said: tuple[str, ...], fault: str) -> None:
    """Put one script into the report."""
    if fault or marks is None:
        report.not_marked[student] = fault or "none of its questions could be marked"
        report.marked.pop(student, None)
    elif any(v.marks is None for v in verdicts.values()):
        report.in_part[student] = "; ".join(sorted({v.says for v in verdicts.values() if v.marks is None}))
    if said:
        report.odd[student] = said
