"""The command that writes worked solutions, and feedback pages."""

from __future__ import annotations

import os
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from functools import partial
from multiprocessing import get_context
from pathlib import Path
from urllib.parse import quote

import click
from rich.console import Console
from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeElapsedColumn, TimeRemainingColumn

from ..coursework import find_assignment
from ..coursework.own import look_in
from . import pdf
from .numbers import with_numbers

ENOUGH = 60  # pages from which on it pays to start more processes, each of which derives the equations anew


@dataclass(frozen=True)
class Wanted:
    """What is written for each student, and where."""

    assignment: str
    folder: Path
    pdf: bool = False
    notebook: bool = False
    numbers: Path | None = None

    def place(self, student: str) -> Path:
        """The file of a student: whatever the id, it stays in the folder."""
        return self.folder / f"{self.assignment}-{quote(student, safe='@-_ ').replace('.', '%2E')}.html"


def write(wanted: Wanted, student: str) -> str:
    """Write all that is wanted for one student; a sentence if it could not be done."""
    from .page import write_solution
    from .worked import DisagreementError

    assignment, place = find_assignment(wanted.assignment), wanted.place(student)
    if wanted.numbers:
        assignment, student = with_numbers(assignment, wanted.numbers)
    try:
        write_solution(assignment, student, place)
    except DisagreementError as error:
        return str(error)
    if wanted.pdf:
        pdf.print_page(place)
    if wanted.notebook:
        _write_notebook(assignment, student, place.with_suffix(".ipynb"))
    return ""


def _write_notebook(assignment, student: str, place: Path) -> None:
    import nbformat

    from .notebook import build

    place.write_text(nbformat.writes(build(assignment, student)) + "\n", encoding="utf-8")


def write_all(wanted: Wanted, students: list[str], *, workers: int = 1, seen=lambda: None) -> dict[str, str]:
    """Write for many; the sentences about those for whom it could not be done."""
    wanted.folder.mkdir(parents=True, exist_ok=True)
    one, poor = partial(write, wanted), {}
    if workers == 1 or len(students) < ENOUGH:
        found = map(one, students)
        return _collected(students, found, poor, seen)
    # a fresh process each: the progress bar's thread must not be copied
    with ProcessPoolExecutor(workers, mp_context=get_context("spawn")) as pool:
        return _collected(students, pool.map(one, students, chunksize=8), poor, seen)


def _collected(students, found, poor: dict[str, str], seen) -> dict[str, str]:
    for student, said in zip(students, found, strict=True):
        if said:
            poor[student] = said
        seen()
    return poor


def everybody(course: Path, assignment: str) -> list[str]:
    """Every id on the course's list, and whoever has handed in."""
    from ..marking import handed_in
    from ..marking.course import Course
    from ..marking.gradebook import Gradebook, file_of

    opened = Course.open(course)
    file, there = file_of(opened.db_url), handed_in.students(opened.place, assignment)
    ids = {name for name in there if handed_in.can_be_id(name)}
    if file is None or file.is_file():
        with Gradebook(opened.db_url, assignment) as book:
            ids |= set(book.students())
    return sorted(ids)


@click.command("solutions")
@click.argument("assignment")
@click.option("--student", "students", multiple=True, help="For this id; may be given several times.")
@click.option("--all", "whole", is_flag=True, help="For everybody on the course's list.")
@click.option(
    "--numbers", type=click.Path(path_type=Path, exists=True, dir_okay=False), help="For the numbers in this file."
)
@click.option(
    "--course", default=".", type=click.Path(path_type=Path, file_okay=False), help="The nbgrader course, for --all."
)
@click.option(
    "--to", "folder", default="solutions", show_default=True, type=click.Path(path_type=Path, file_okay=False),
    help="Where the pages go.",
)  # fmt: skip
@click.option("--pdf", "as_pdf", is_flag=True, help="A PDF of each page too.")
@click.option("--notebook", is_flag=True, help="A notebook too that computes the same.")
@click.option("--feedback", is_flag=True, help="Instead: pages for students, on what was marked and what to do next.")
@click.option(
    "--answers", type=click.Choice(("after-deadline", "never", "now")), default="after-deadline", show_default=True,
    help="With --feedback: when they say what is right. The deadline is the last one in late.toml.",
)  # fmt: skip
@click.option("--release", is_flag=True,
              help="With --feedback: put the pages where nbgrader hands them back, in place of the short ones of marking.")  # fmt: skip
@click.option("--workers", type=click.IntRange(1, 512), help="Pages at a time; one for each processor if not said.")
def command(
    assignment, students, whole, numbers, course, folder, as_pdf, notebook, feedback, answers, release, workers
):
    """Write worked solutions of an assignment, each for the numbers of one student. For tutors.

    The steps and answers come from the functions that give the marks. NUMBERS is a TOML file with a table for each
    machine, for instance [net-shaker] with ground_mm = 250 and so on.
    """
    if sum((bool(students), whole or (feedback and not students), bool(numbers))) != 1:
        raise click.UsageError("say for whom: --student ID, --all or --numbers FILE, one of the three")
    if not all(student.strip() for student in students):
        raise click.UsageError("a student id cannot be empty")
    if feedback and notebook:
        raise click.UsageError("feedback makes pages only; a notebook belongs to a worked solution")
    if numbers and notebook:
        raise click.UsageError("a notebook draws its numbers from an id; --numbers makes pages only")
    if release and not feedback:
        raise click.UsageError("only feedback is released to students: add --feedback")
    look_in(course)  # a lecturer's own assignment stands there
    paper = find_assignment(assignment)
    if as_pdf:
        pdf.printer()
    if feedback:
        return _feedback(paper, course, students, numbers, Wanted(assignment, folder, as_pdf), answers, release)
    ids = everybody(course, assignment) if whole else list(students) or [numbers.stem]
    if not ids:
        raise click.ClickException(
            f"nobody is on the list of the course in {course}, and nobody has handed in {assignment}"
        )
    if numbers:
        with_numbers(paper, numbers)
    wanted = Wanted(assignment, folder, as_pdf, notebook, numbers)
    workers = workers or len(os.sched_getaffinity(0))
    _run(lambda seen: write_all(wanted, ids, workers=workers, seen=seen), len(ids), f"Worked solutions are in {folder}")


def _run(work, total: int, where: str) -> None:
    """Do the work under a progress bar, and say at the end what could not be done."""
    console = Console()
    columns = (
        TextColumn("{task.description}"),
        BarColumn(),
        MofNCompleteColumn(),
        TimeElapsedColumn(),
        TimeRemainingColumn(),
    )
    with Progress(*columns, console=console) as progress:
        bar = progress.add_task("writing", total=total)
        poor = work(lambda: progress.advance(bar))
    for student, said in poor.items():
        console.print(f"not written: {student}: {said}.", markup=False, soft_wrap=True)
    console.print(f"{total - len(poor)} of {total} written. {where}.", markup=False, soft_wrap=True)
    raise SystemExit(1 if poor else 0)


def _feedback(paper, course: Path, students, numbers, wanted: Wanted, answers: str, release: bool) -> None:
    """Feedback pages for those named, or for all who have been marked."""
    from ..marking.course import Course
    from ..marking.late import read_rules
    from .feedback import answers_shown
    from .scripts import write_feedback

    if numbers:
        raise click.UsageError("feedback is on what somebody handed in; --numbers makes worked solutions only")
    opened = Course.open(course)
    right = answers_shown(read_rules(opened.place), paper.id, answers)
    place = (lambda s: opened.page(paper.id, s)) if release else (lambda s: wanted.place(f"{s} feedback"))
    written = []
    poor = write_feedback(opened, paper, list(students), lambda s: written.append(s) or place(s), right)
    for student in written if wanted.pdf else ():
        pdf.print_page(place(student))
    for student, said in poor.items():
        click.echo(f"not written: {student}: {said}.")
    shown = "with what is right" if right else "without what is right"
    click.echo(
        f"{len(written)} pages of feedback, {shown}, are in {opened.place / 'feedback' if release else wanted.folder}"
    )
    raise SystemExit(1 if poor else 0)
