"""Marking again after a question was corrected: the differences are shown first, nothing is lost by it."""

from __future__ import annotations

import os
from dataclasses import dataclass, replace
from pathlib import Path

import click
from rich.console import Console
from rich.table import Table
from rich.text import Text

from . import handed_in
from .backup import keep_copy
from .course import Course
from .gradebook import Gradebook
from .history import Entry
from .lanes import in_order_of_finish
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


def differences(before: Entry, after: Marked) -> list[Difference]:
    """What a new marking of one script changes."""
    found = []
    for cell, verdict in after.verdicts.items():
        old = before.verdicts.get(cell)
        if old is None or old.marks != verdict.marks:
            found.append(Difference(after.student, cell, old.marks if old else None, verdict.marks, verdict.says))
    return found


def marked_again(course: Course, book: Gradebook, task: Task, workers: int) -> dict[str, tuple[Entry, Marked]]:
    """Mark every script that has been marked once more; nothing is saved."""
    known = book.latest()
    scripts = (handed_in.read(course.place, task.assignment, student) for student in sorted(known))
    results = (r for r in in_order_of_finish(task, scripts, workers) if isinstance(r, Marked))
    return {r.student: (known[r.student], replace(r, notebook="", page="")) for r in results}


def save_changed(course: Course, book: Gradebook, task: Task, students: list[str], reason: str, workers: int) -> int:
    """Mark these again and save them, each with its reason in the history; how many there are."""
    scripts = (handed_in.read(course.place, task.assignment, student) for student in students)
    saved = 0
    for result in in_order_of_finish(task, scripts, workers):
        if isinstance(result, Marked):
            keep(course, book, task, result, reason)
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
    with course.one_writer(), Gradebook(course.db_url, assignment) as book:
        again = marked_again(course, book, task, workers)
        found = [d for before, after in again.values() for d in differences(before, after)]
        if found:
            console.print(_table(found))
        else:
            console.print(f"No mark of {len(again)} scripts would change.")
        if not found or not (yes or click.confirm("Save these marks?")):
            console.print("Nothing was saved.")
            return
        kept = keep_copy(course.db_url, course.place / "backups", f"before {reason}")
        console.print(f"The gradebook as it was is in {kept}", soft_wrap=True)
        # all of them, also those whose marks stay: the history then says by which version each mark is
        saved = save_changed(course, book, task, sorted(again), reason, workers)
    console.print(f"{saved} scripts were marked again by {versions_of(assignment)['questions']}.", soft_wrap=True)
