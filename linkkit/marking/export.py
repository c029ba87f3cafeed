"""Marks out: tables for a spreadsheet, OneRoster results, scores in the shape of LTI's Assignment and Grade Services."""

from __future__ import annotations

import csv
import json
from datetime import UTC, datetime
from pathlib import Path

import click

from . import oneroster
from .course import Course, write_whole
from .gradebook import Gradebook
from .history import Entry
from .late import read_rules
from .marks import Line, lines

RUNS = tuple("=+-@\t\r\n|")  # what a cell may not begin with, lest a spreadsheet run it


def defused(value) -> str:
    """A cell that no spreadsheet runs: text that begins like a formula gets an apostrophe before it.

    Examples
    --------
    >>> defused("=1+1"), defused(-3.5), defused("ab123")
    ("'=1+1", '-3.5', 'ab123')
    """
    if value is None:
        return ""
    if isinstance(value, int | float):
        return f"{value:g}"
    text = " ".join(str(value).split("\x00")).replace("\r", " ").replace("\n", " ")
    return f"'{text}" if text.lstrip(" ").startswith(RUNS) or text.startswith(RUNS) else text


def write_table(place: Path, heading: list[str], rows: list[list]) -> None:
    """Write a table as CSV (RFC 4180, UTF-8), every cell defused."""
    import io

    out = io.StringIO()
    table = csv.writer(out, lineterminator="\r\n")
    table.writerow([defused(cell) for cell in heading])
    table.writerows([defused(cell) for cell in row] for row in rows)
    write_whole(place, out.getvalue())


def write_marks(place: Path, found: list[Line]) -> None:
    """A row a student, a column a question."""
    cells = list(dict.fromkeys(cell for line in found for cell in line.marks))
    heading = ["student", *cells, "given", "late", "final", "of", "still open", "handed in"]
    rows = [
        [line.student, *(line.marks[c].given if c in line.marks else None for c in cells), line.given, line.late,
         line.final, line.of, line.still_open, line.submitted and line.submitted.isoformat(sep=" ")]
        for line in found
    ]  # fmt: skip
    write_table(place, heading, rows)


def write_questions(folder: Path, found: list[Line], latest: dict[str, Entry]) -> list[Path]:
    """A file a question: what each student got for it, how it was read, and what was wrong."""
    cells = list(dict.fromkeys(cell for line in found for cell in line.marks))
    for cell in cells:
        rows = []
        for line in (line for line in found if cell in line.marks):
            mark, entry = line.marks[cell], latest.get(line.student)
            verdict = entry.verdicts.get(cell) if entry else None
            said = (verdict.code, verdict.read, verdict.says) if verdict else ("", "", "")
            rows.append([line.student, mark.given, mark.of, "yes" if mark.by_hand else "no", *said])
        heading = ["student", "marks", "of", "by hand", "code", "read as", "feedback"]
        write_table(folder / f"{cell}.csv", heading, rows)
    return [folder / f"{cell}.csv" for cell in cells]


def scores(assignment: str, found: list[Line], at: datetime | None = None) -> dict:
    """A line item and its scores, in the shape of LTI's Assignment and Grade Services 2.0.

    Who handed nothing in has no score; where something is still open, the progress says that a person is to look.
    """
    now = (at or datetime.now(UTC)).isoformat(timespec="milliseconds").replace("+00:00", "Z")
    most = max((line.of for line in found), default=0.0)
    made = [
        {
            "userId": line.student,
            "scoreGiven": line.final,
            "scoreMaximum": line.of,
            "activityProgress": "Completed",
            "gradingProgress": "PendingManual" if line.still_open else "FullyGraded",
            "timestamp": now,
        }
        for line in found
        if line.marks
    ]
    item = {"label": assignment, "resourceId": assignment, "tag": "mark", "scoreMaximum": most}
    return {"lineItem": item, "scores": made}


@click.command("export")
@click.argument("assignment")
@click.option(
    "--course", "place", default=".", type=click.Path(path_type=Path, file_okay=False), help="The nbgrader course."
)
@click.option(
    "--to",
    "folder",
    default="marks",
    type=click.Path(path_type=Path, file_okay=False),
    show_default=True,
    help="Where the files go.",
)
@click.option("--class-id", default="", help="OneRoster: the class's sourcedId.")
@click.option("--school-id", default="", help="OneRoster: the school's sourcedId.")
@click.option("--session-id", default="", help="OneRoster: the academic session's sourcedId.")
def command(assignment, place, folder, class_id, school_id, session_id):
    """Write the marks of an assignment: tables, OneRoster 1.2 results, and scores for a learning platform.

    Cells that a spreadsheet would take for a formula are written so that it does not.
    """
    where = oneroster.Where(class_id or "class", school_id or "school", session_id or "session")
    course = Course.open(place)
    with Gradebook(course.db_url, assignment) as book:
        found, latest = lines(book), book.latest()
    write_marks(folder / f"{assignment}.csv", found)
    write_questions(folder / f"{assignment}-questions", found, latest)
    write_whole(folder / f"{assignment}-scores.json", json.dumps(scores(assignment, found), indent=1))
    left_out = oneroster.write(folder / f"{assignment}-oneroster.zip", assignment, found, where,
                               due=read_rules(course.place).due(assignment, ""))  # fmt: skip
    for student in left_out:
        click.echo(f"left out of the OneRoster file: {student!r} can't be a sourcedId there")
    if not (class_id and school_id and session_id):
        click.echo(
            "The OneRoster file has stand-ins for ids that were not given: --class-id, --school-id, --session-id."
        )
    click.echo(f"The marks of {sum(bool(line.marks) for line in found)} of {len(found)} students are in {folder}")
