"""The log of a marking on paper: every mark that was given, why, by which versions, and what it changed."""

from __future__ import annotations

from pathlib import Path

import click

from ..coursework import find_assignment
from ..coursework.question import Assignment
from ..marking import history
from ..marking.course import Course, write_whole
from ..marking.gradebook import Gradebook
from ..marking.history import Entry
from ..marking.marks import Line, lines
from ..solutions import pdf
from ..solutions.page import template
from ..solutions.scripts import question_of


def log_page(assignment: Assignment, entries: list[Entry], marks: list[Line], student: str | None = None) -> str:
    """The log as one HTML page that prints.

    Parameters
    ----------
    entries : list of Entry
        Of the history, the oldest first.
    marks : list of Line
        What stands in the gradebook, for the marks by hand.
    student : str, optional
        Only this one.
    """
    wanted = [entry for entry in entries if student in (None, entry.student)]
    last: dict[str, Entry] = {}
    rows = []
    for entry in wanted:
        rows.append(_row(assignment, entry, last.get(entry.student)))
        last[entry.student] = entry
    hand = [{"student": line.student, "question": question_of(assignment, cell) or cell, "given": m.given, "of": m.of}
            for line in marks if student in (None, line.student) for cell, m in line.marks.items() if m.by_hand]  # fmt: skip
    return template("log.html", "linkkit.report").render(
        assignment=assignment, rows=rows, hand=hand, student=student, asked=_asked(assignment, wanted) if student else [],
        scripts=len(last), versions=_versions(wanted))  # fmt: skip


def _asked(assignment: Assignment, entries: list[Entry]) -> list[dict]:
    """One student's questions as they were last marked: what was read, what was said of it, by what code."""
    verdicts = entries[-1].verdicts if entries else {}
    return [{"question": question_of(assignment, cell) or cell, "marks": _marks(v.marks), "of": v.of, "code": v.code,
             "read": v.read[:300], "says": v.says[:500]} for cell, v in verdicts.items()]  # fmt: skip


def _row(assignment: Assignment, entry: Entry, before: Entry | None) -> dict:
    return {
        "at": entry.at.replace("T", " ")[:19], "student": entry.student, "reason": entry.reason, "marks": entry.marks,
        "late": entry.late, "handed": entry.stamp[:16], "script": entry.script_hash[:8], "seed": entry.seed,
        "fault": entry.fault[:300], "said": [said[:300] for said in entry.said[:10]],
        "changed": _changed(assignment, entry, before) if before else [],
    }  # fmt: skip


def _changed(assignment: Assignment, entry: Entry, before: Entry) -> list[str]:
    """The marks that are others than in the entry before."""
    found = []
    for cell, verdict in entry.verdicts.items():
        old = before.verdicts.get(cell)
        if old is None or old.marks != verdict.marks:
            found.append(
                f"{question_of(assignment, cell) or cell}: {_marks(old and old.marks)} to {_marks(verdict.marks)}"
            )
    return found


def _marks(marks: float | None) -> str:
    return "not marked" if marks is None else f"{marks:g}"


def _versions(entries: list[Entry]) -> list[str]:
    """The versions by which these marks were given, in the order in which they came into use."""
    return list(dict.fromkeys(", ".join(_version(name, value) for name, value in e.versions.items()) for e in entries))


def _version(name: str, value) -> str:
    if not isinstance(value, dict):
        return f"{name} {value}"
    numbers = sorted(set(map(str, value.values())))
    return f"{name} of version {' and '.join(numbers)}"


@click.command("log")
@click.argument("assignment")
@click.option("--student", help="Only this id.")
@click.option(
    "--course", "place", default=".", type=click.Path(path_type=Path, file_okay=False), help="The nbgrader course."
)
@click.option("--to", "page", type=click.Path(path_type=Path, dir_okay=False), help="The page that is written.")
@click.option("--pdf", "as_pdf", is_flag=True, help="A PDF of it too.")
def command(assignment, student, place, page, as_pdf):
    """Write the log of a marking as a page that prints: each mark with its time, its reason and what it changed."""
    course = Course.open(place)
    paper = find_assignment(assignment)
    if as_pdf:
        pdf.printer()
    with Gradebook(course.db_url, assignment) as book:
        with book.engine.connect() as db:
            entries = history.every(db, assignment)
        marks = lines(book)
    if not any(student in (None, entry.student) for entry in entries):
        whose = f" of {student}" if student else ""
        raise click.ClickException(
            f"nothing{whose} has been marked in {assignment}; run `linkkit mark {assignment}` first"
        )
    page = page or Path(f"{assignment}-log.html")
    write_whole(page, log_page(paper, entries, marks, student))
    if as_pdf:
        pdf.print_page(page)
    click.echo(f"The log is in {page}")
