"""The lecturer's dry run: invented students hand in scripts of known worth, and the marks are compared."""

from __future__ import annotations

import tempfile
from dataclasses import dataclass
from pathlib import Path

import click
from rich.console import Console
from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeElapsedColumn
from rich.table import Table

from ..coursework import find_assignment
from ..solutions import write_solution
from . import stock
from .scripts import Script, invented

HERE = Path(__file__).resolve().parents[2] / "exercises"


@dataclass(frozen=True)
class Outcome:
    """One script after marking."""

    script: Script
    given: float | None
    feedback: bool

    @property
    def agrees(self) -> bool:
        """Is the mark the one that was expected, and is there feedback?"""
        return self.feedback and self.given is not None and abs(self.given - self.script.expected) < 0.005


def rehearse(assignment: str, students: int, course: Path, scratch: Path, progress: Progress) -> list[Outcome]:
    """Release, hand in, mark and give feedback in a scratch course, all by nbgrader's own commands."""
    paper = find_assignment(assignment)
    scripts = list(invented(paper, students))
    bar = progress.add_task("releasing", total=2 * students + 1)
    stock.scratch_course(course, assignment, scratch)
    stock.nbgrader(scratch, "generate_assignment", assignment)
    stock.hand_in(scratch, assignment, scripts)
    write_solution(paper, scripts[0].student, scratch / "solution.html")
    for command, doing, sign in (
        ("autograde", "marking", "Autograding "),
        ("generate_feedback", "writing feedback", "Converting notebook "),
    ):
        progress.update(bar, description=doing, advance=0 if command == "autograde" else 1)
        stock.nbgrader(scratch, command, assignment, seen=lambda line, s=sign: progress.advance(bar, s in line))
    progress.update(bar, completed=2 * students + 1)
    given = stock.marks(scratch, assignment)
    return [Outcome(s, given.get(s.student), _has_feedback(scratch, assignment, s.student)) for s in scripts]


def _has_feedback(scratch: Path, assignment: str, student: str) -> bool:
    page = scratch / "feedback" / student / assignment / f"{assignment}.html"
    return page.is_file() and page.stat().st_size > 0


def table(outcomes: list[Outcome], of: float) -> Table:
    """Mark expected and mark given, a row a script."""
    rows = Table(title=f"Expected and given marks, of {of:g}")
    for heading, side in (("id", "left"), ("script", "left"), ("expected", "right"), ("given", "right"), ("", "left")):
        rows.add_column(heading, justify=side)
    for outcome in outcomes:
        given = "none" if outcome.given is None else f"{outcome.given:g}"
        word = "agrees" if outcome.agrees else "DIFFERS" if outcome.feedback else "NO FEEDBACK"
        script = outcome.script
        rows.add_row(script.student, script.fault, f"{script.expected:g}", given, word)
    return rows


@click.command("rehearse")
@click.option("--assignment", default="four-links", show_default=True, help="Which assignment to rehearse.")
@click.option("--students", default=12, show_default=True, type=click.IntRange(1, 5000), help="How many invented ids.")
@click.option(
    "--course", default=HERE, type=click.Path(path_type=Path, file_okay=False), help="The nbgrader course it is in."
)
def command(assignment: str, students: int, course: Path) -> None:
    """Mark invented scripts of known worth in a scratch course, and compare.

    Ends with an exit code of 1 if any mark differs from the one expected.
    """
    console = Console()
    scratch = Path(tempfile.mkdtemp(prefix=f"rehearsal-{assignment}-"))
    columns = (TextColumn("{task.description}"), BarColumn(), MofNCompleteColumn(), TimeElapsedColumn())
    with Progress(*columns, console=console) as progress:
        outcomes = rehearse(assignment, students, course, scratch, progress)
    console.print(table(outcomes, find_assignment(assignment).marks))
    differ = [outcome for outcome in outcomes if not outcome.agrees]
    console.print(f"Scripts, gradebook, feedback and a worked solution are in {scratch}", soft_wrap=True)
    console.print(f"{len(outcomes) - len(differ)} of {len(outcomes)} agree.")
    raise SystemExit(1 if differ else 0)
