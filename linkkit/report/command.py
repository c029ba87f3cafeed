"""The command that writes an item report."""

from __future__ import annotations

from pathlib import Path

import click

from ..coursework import find_assignment
from ..marking.course import Course
from ..marking.gradebook import Gradebook
from ..solutions import pdf


@click.command("report")
@click.argument("assignment")
@click.option(
    "--course", "place", default=".", type=click.Path(path_type=Path, file_okay=False), help="The nbgrader course."
)
@click.option(
    "--to", "folder", default="report", show_default=True, type=click.Path(path_type=Path, file_okay=False),
    help="Where the page and the tables go.",
)  # fmt: skip
@click.option("--pdf", "as_pdf", is_flag=True, help="A PDF of the page too.")
def command(assignment, place, folder, as_pdf):
    """Say how the questions of an assignment worked: facility, discrimination, reliability, misconceptions, time.

    First attempts only, each in its latest marking. One page, and three tables as CSV.
    """
    from .attempts import read_attempts
    from .page import write

    course = Course.open(place)
    paper = find_assignment(assignment)
    if as_pdf:
        pdf.printer()
    with Gradebook(course.db_url, assignment) as book:
        attempts = read_attempts(book, paper)
    if not attempts.students:
        raise click.ClickException(
            f"nothing of {assignment} has been marked in {place}; run `linkkit mark {assignment}` first"
        )
    page = write(paper, attempts, folder)
    if as_pdf:
        pdf.print_page(page)
    click.echo(f"The report on {len(attempts.students)} scripts is in {page}")
