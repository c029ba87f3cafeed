"""The commands on what is kept: the history of a student's marks, copies of the gradebook and putting one back."""

from __future__ import annotations

from pathlib import Path

import click
from rich.console import Console
from rich.table import Table
from rich.text import Text

from .backup import keep_copy, put_back
from .course import Course, CourseError
from .gradebook import Gradebook
from .history import Entry

PLACE = click.option(
    "--course", "place", default=".", type=click.Path(path_type=Path, file_okay=False), help="The nbgrader course."
)


@click.command("history")
@click.argument("assignment")
@click.argument("student")
@PLACE
@click.option("--cells", is_flag=True, help="Also the mark of every cell.")
def history(assignment: str, student: str, place: Path, cells: bool) -> None:
    """Every mark that a student was given: when, for which script, by which versions, and why."""
    course = Course.open(place)
    with Gradebook(course.db_url, assignment) as book:
        entries = book.entries(student)
    if not entries:
        raise CourseError(
            f"{student} has no marks for {assignment} in the history; ids are written as in the gradebook"
        )
    console = Console()
    console.print(_table(entries))
    for entry in entries if cells else ():
        console.print(_cells(entry))


def _table(entries: list[Entry]) -> Table:
    rows = Table("when", "marks", "late", "script", "versions", "reason")
    for entry in entries:
        versions = f"linkkit {entry.versions.get('linkkit')}, marker {entry.versions.get('marker')}"
        shown = (entry.at, _marks(entry.marks), f"{entry.late:g}", entry.script_hash[:12], versions, entry.reason)
        rows.add_row(*map(Text, shown))
    return rows


def _cells(entry: Entry) -> Table:
    rows = Table("cell", "marks", "of", "said", title=entry.at, title_justify="left")
    for cell, verdict in entry.verdicts.items():
        rows.add_row(Text(cell), _marks(verdict.marks), f"{verdict.of:g}", Text(verdict.says))
    return rows


def _marks(marks: float | None) -> str:
    return "not marked" if marks is None else f"{marks:g}"


@click.command("backup")
@PLACE
@click.option(
    "--restore", "kept", type=click.Path(path_type=Path, exists=True, dir_okay=False), help="Put this copy back."
)
def backup(place: Path, kept: Path | None) -> None:
    """Copy the gradebook to backups/, or put a copy back (the present one is then kept there too).

    A PostgreSQL gradebook is copied by pg_dump, and restored by your own pg_restore.
    """
    course = Course.open(place)
    folder = course.place / "backups"
    with course.one_writer():
        if kept:
            present = put_back(course.db_url, kept, folder)
            click.echo(f"{kept} is the gradebook again." + (f" The one before is in {present}" if present else ""))
            return
        made = keep_copy(course.db_url, folder, "by hand")
    if made is None:
        raise CourseError("there is no gradebook to copy yet")
    click.echo(f"The gradebook is copied to {made}")
