"""Marking again after a question was corrected: the differences are shown first, nothing is lost by it."""

from __future__ import annotations

import contextlib
import os
import pickle
import tempfile
from dataclasses import dataclass
from pathlib import Path
from typing import BinaryIO

import click
from rich.console import Console
from rich.table import Table
from rich.text import Text

from ..coursework import find_assignment
from . import handed_in
from .backup import keep_copy
from .course import Course
from .gradebook import Gradebook
from .history import Entry
from .lanes import in_order_of_finish
from .numbers import with_numbers
from .one_script import Marked, Task
from .run import keep, task_of, versions_of
from .sandbox import check_sandbox


@dataclass(frozen=True)
class Difference:
    """A mark that would change."""

    student: str
    cell: str
    before: float | None
    after: float | None
    why: str


@dataclass(frozen=True)
class Again:
    """What a new marking of all scripts came to: the marks that would change, and why some scripts could not be marked."""

    found: list[Difference]
    lost: dict[str, str]


def differences(before: Entry, after: Marked) -> list[Difference]:
    """What a new marking of one script changes."""
    found = []
    for cell, verdict in after.verdicts.items():
        old = before.verdicts.get(cell)
        if old is None or old.marks != verdict.marks:
            found.append(Difference(after.student, cell, old.marks if old else None, verdict.marks, verdict.says))
    return found


def marked_again(course: Course, book: Gradebook, task: Task, workers: int, kept: BinaryIO) -> Again:
    """Mark every script that has been marked once more. The results are kept in a file, none is saved."""
    known = book.latest()
    students = sorted(known)
    scripts = (handed_in.read(course.place, task.assignment, student) for student in students)
    found, lost = [], {}
    for result in in_order_of_finish(task, with_numbers(find_assignment(task.assignment), students, scripts), workers):
        if isinstance(result, Marked):
            found += differences(known[result.student], result)
            pickle.dump(result, kept)
        else:
            lost[result[0].student] = result[1]
    return Again(sorted(found, key=lambda one: one.student), lost)


def save_again(course: Course, book: Gradebook, task: Task, reason: str, kept: BinaryIO) -> int:
    """Save what was kept, each with its reason in the history; how many there are.

    Those whose marks stay are saved too: the history then says by which version each mark is.
    """
    kept.seek(0)
    saved = 0
    with contextlib.suppress(EOFError):
        while True:
            keep(course, book, task, pickle.load(kept), reason)
            saved += 1
    return saved


def _table(found: list[Difference]) -> Table:
    rows = Table("id", "cell", "before", "after", "why", title=f"{len(found)} marks would change", title_justify="left")
    for one in found:
        shown = ["not marked" if m is None else f"{m:g}" for m in (one.before, one.after)]
        rows.add_row(Text(one.student), Text(one.cell), *shown, Text(one.why))
    return rows


@click.command("remark")
@click.argument("assignment")
@click.option("--reason", required=True, help="Why; it goes into the history of every mark.")
@click.option(
    "--course", "place", default=".", type=click.Path(path_type=Path, file_okay=False), help="The nbgrader course."
)
@click.option("--workers", type=click.IntRange(1, 512), help="Scripts at a time.")
@click.option("--yes", is_flag=True, help="Save without asking.")
def command(assignment, reason, place, workers, yes):
    """Mark again after a question was corrected.

    Shows every mark that would change, and asks. Then the gradebook is copied to backups/ and the new marks are saved;
    the old ones stay in the history, and marks and comments by hand stay as they are.
    """
    console, course = Console(), Course.open(place)
    check_sandbox()
    workers = workers or len(os.sched_getaffinity(0))
    task = task_of(course, assignment)
    with course.one_writer(), Gradebook(course.db_url, assignment) as book, tempfile.TemporaryFile() as kept:
        again = marked_again(course, book, task, workers, kept)
        for student, why in again.lost.items():
            console.print(f"{student} stays as it was: {why}", markup=False, soft_wrap=True)
        console.print(_table(again.found) if again.found else "No mark would change.")
        if not again.found or not (yes or click.confirm("Save these marks?")):
            console.print("Nothing was saved.")
            return
        copy = keep_copy(course.db_url, course.place / "backups", f"before {reason}")
        console.print(f"The gradebook as it was is in {copy}", soft_wrap=True)
        saved = save_again(course, book, task, reason, kept)
    console.print(f"{saved} scripts were marked again by {versions_of(assignment)['questions']}.", soft_wrap=True)
