"""The command that marks a cohort."""

from __future__ import annotations

import contextlib
import os
from pathlib import Path

import click
from rich.console import Console
from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeElapsedColumn, TimeRemainingColumn
from rich.table import Table

from . import archive, handed_in
from .course import Course
from .gradebook import Gradebook
from .run import Report, cohort, task_of
from .sandbox import check_sandbox
from .showable import line

SHOWN = 40  # lines of each kind in the closing report; all of them stand in the file


@click.command("mark")
@click.argument("assignment")
@click.option("--student", help="Only this id.")
@click.option(
    "--workers", type=click.IntRange(1, 512), help="Scripts at a time; as many as there are processors if not said."
)
@click.option("--cluster", metavar="ADDRESS", help="Mark on the Dask cluster whose scheduler is at this address.")
@click.option(
    "--course", "place", default=".", type=click.Path(path_type=Path, file_okay=False), help="The nbgrader course."
)
@click.option(
    "--zip-in", type=click.Path(path_type=Path, exists=True), help="Take scripts in from a zip file or a folder first."
)
@click.option(
    "--zip-out",
    type=click.Path(path_type=Path, dir_okay=False),
    help="Put the feedback of all into a zip file afterwards.",
)
@click.option("--again", metavar="REASON", help="Mark also what has been marked; the reason goes into the history.")
@click.option(
    "--not-for-credit", is_flag=True, help="Without a sandbox: feedback only, nothing goes into the gradebook."
)
def command(assignment, student, workers, cluster, place, zip_in, zip_out, again, not_for_credit):
    """Mark an assignment of an nbgrader course: sandboxed, in parallel, going on where it was stopped.

    Feedback and marked notebooks go where nbgrader looks for them, marks into its gradebook, with a history. What has
    been marked in its present form is left as it is.
    """
    console, course = Console(), Course.open(place)
    if not not_for_credit and not cluster:
        check_sandbox()
    with course.one_writer(), contextlib.ExitStack() as open_things:
        task = task_of(course, assignment, credit=not not_for_credit)
        book = None if not_for_credit else open_things.enter_context(Gradebook(course.db_url, assignment))
        if zip_in:
            _say_taken(console, archive.take_in(zip_in, course, assignment, book.students() if book else []))
        bar = open_things.enter_context(_progress(console))
        counted = bar.add_task(
            "marking", total=1 if student else len(handed_in.students(course.place, assignment)) or 1
        )
        report = cohort(
            course, book, task, Report(), only=student, again=again is not None, reason=again or "",
            workers=workers or len(os.sched_getaffinity(0)), cluster=cluster, seen=lambda _: bar.advance(counted),
        )  # fmt: skip
        bar.update(counted, completed=bar.tasks[0].total)
    _close(console, course, assignment, report, not_for_credit)
    if zip_out:
        console.print(
            f"{archive.give_out(course, assignment, zip_out)} pages of feedback are in {zip_out}", soft_wrap=True
        )


def _progress(console: Console) -> Progress:
    return Progress(TextColumn("{task.description}"), BarColumn(), MofNCompleteColumn(), TimeElapsedColumn(),
                    TimeRemainingColumn(), console=console)  # fmt: skip


def _say_taken(console: Console, taken: archive.Taken) -> None:
    console.print(f"Taken in: {len(taken.students)} scripts.")
    for name, why in list(taken.refused.items())[:SHOWN]:
        console.print(f"  not taken: {line(f'{name}: {why}', 400)}", markup=False, soft_wrap=True)


def _close(console: Console, course: Course, assignment: str, report: Report, not_for_credit: bool) -> None:
    """The closing report: every id that is not simply marked, and how many are."""
    for title, rows in (
        ("Not marked", report.not_marked),
        ("Marked in part", report.in_part),
        ("Odd, and marked all the same", {s: " ".join(said) for s, said in report.odd.items()}),
        ("Not submitted", dict.fromkeys(report.not_submitted, "")),
    ):
        if rows:
            console.print(_table(title, rows))
    console.print(
        f"{len(report.marked)} marked now, {len(report.as_before)} as before, {len(report.not_marked)} not marked, "
        f"{len(report.not_submitted)} not submitted."
    )
    if not_for_credit:
        console.print(
            f"Not for credit: the pages are in {course.place / 'not-for-credit' / assignment}", soft_wrap=True
        )


def _table(title: str, rows: dict[str, str]) -> Table:
    from rich.text import Text

    table = Table("id", "why", title=f"{title}: {len(rows)}", title_justify="left")
    for student, why in sorted(rows.items())[:SHOWN]:
        table.add_row(Text(student), Text(why))
    if len(rows) > SHOWN:
        table.add_row("…", f"and {len(rows) - SHOWN} more")
    return table
