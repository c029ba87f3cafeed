"""The lecturer's dry run: invented students hand in scripts of known worth, and the marks are compared."""

from __future__ import annotations

import tempfile
from pathlib import Path

import click
from rich.console import Console
from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeElapsedColumn
from rich.table import Table
from rich.text import Text

from .rehearse_run import BY, NotReady, Rehearsed, assignments_of, lanes, rehearse
from .sandbox import NoSandbox, check_sandbox

HERE = Path(__file__).resolve().parents[2] / "exercises"
SHOWN = 30  # scripts that are listed
USUAL = "four-links"  # of the workbook's own course, if none is named


def by_question(done: Rehearsed) -> Table:
    """A row for each question: its marks, the known wrong answers tried, and how many marks are as expected."""
    title = f"{done.paper.id}: {done.paper.title}, {done.paper.marks_by_machine:g} marks by machine"
    rows = Table(title=title, title_justify="left")
    for heading in ("question", "marks", "wrong answers tried", "as expected", ""):
        side = "left" if heading in ("question", "") else "right"
        rows.add_column(heading, justify=side)
    for q in done.paper.questions:
        if q.marked_by_hand:
            rows.add_row(q.id, f"{q.marks:g}", "-", "-", "a tutor marks it")
            continue
        agree = sum(q.id not in outcome.differing for outcome in done.outcomes)
        known, tried = len(q.misconceptions), len(set(done.tried(q)) & {k.code for k in q.misconceptions})
        word = "agrees" if agree == len(done.outcomes) else "DIFFERS"
        rows.add_row(q.id, f"{q.marks:g}", f"{tried} of {known}", f"{agree} of {len(done.outcomes)}", word)
    return rows


def by_script(done: Rehearsed) -> Table:
    """A row for each script: the mark that it deserves and the one that it was given."""
    rows = Table("id", "script", title="Scripts", title_justify="left")
    for heading in ("expected", "given"):
        rows.add_column(heading, justify="right")
    rows.add_column("")
    for outcome in done.outcomes:
        given = "none" if outcome.total is None else f"{outcome.total:g}"
        word = "agrees" if outcome.agrees else "DIFFERS"
        rows.add_row(
            Text(outcome.script.student), Text(outcome.script.fault), f"{outcome.script.expected:g}", given, word
        )
    return rows


def differing(done: Rehearsed) -> Table:
    """A row for each script whose marks are not as expected."""
    rows = Table("id", "script", "question", "expected", "given", title="Not as expected", title_justify="left")
    for outcome in [o for o in done.outcomes if not o.agrees][:SHOWN]:
        script, shown = outcome.script, lambda m: "none" if m is None else f"{m:g}"
        if not outcome.feedback:
            rows.add_row(Text(script.student), Text(script.fault), "", "", "NO FEEDBACK")
        for q in outcome.differing:
            rows.add_row(
                Text(script.student), Text(script.fault), q, shown(outcome.deserved[q]), shown(outcome.given.get(q))
            )
    return rows


def _chosen(course: Path, names: tuple[str, ...], every: bool) -> list[str]:
    there = assignments_of(course)
    if not there:
        raise NotReady(f"{course} holds no assignment: name an nbgrader course with --course")
    usual = there if len(there) == 1 else [USUAL] if USUAL in there else []
    wanted = there if every else list(names) or usual
    if not wanted:
        raise NotReady(f"name an assignment with --assignment, or take --all; there are {', '.join(there)}")
    odd = [name for name in wanted if name not in there]
    if odd:
        raise NotReady(f"there is no assignment {odd[0]} in {course}; there are {', '.join(there)}")
    return wanted


def _say(console: Console, done: Rehearsed, place: Path) -> None:
    console.print(by_question(done))
    if len(done.outcomes) <= SHOWN:
        console.print(by_script(done))
    if not done.agrees:
        console.print(differing(done))
    if done.cast.untried:
        console.print(Text(f"Not tried, as no id came to it: {', '.join(done.cast.untried)}"), soft_wrap=True)
    if done.cast.left:
        console.print(f"So few ids leave {done.cast.left} known wrong answers untried; without --ids all are tried.")
    agree = sum(outcome.agrees for outcome in done.outcomes)
    console.print(f"{done.paper.id}: {agree} of {len(done.outcomes)} agree. Scripts, gradebook and feedback: {place}",
                  soft_wrap=True, highlight=False)  # fmt: skip


def _marker(by: str | None, hostile: bool) -> str:
    """Who marks: as asked, or linkkit's marker where its sandbox works, and nbgrader where it does not."""
    if by == "nbgrader":
        return by
    try:
        check_sandbox()
    except NoSandbox as missing:
        if by or hostile:
            raise
        click.echo(f"{missing}\nnbgrader marks this rehearsal: its scripts are our own.", err=True)
        return "nbgrader"
    return "linkkit"


def _solution(done: Rehearsed, scratch: Path) -> Path:
    """The worked solution for the first invented id."""
    from ..solutions import write_solution

    student = done.outcomes[0].script.student
    return write_solution(done.paper, student, scratch / f"worked-solution-{student}.html")


@click.command("rehearse")
@click.option("--assignment", "names", multiple=True,
              help=f"Which assignment to rehearse; may be given several times. {USUAL} if not said.")  # fmt: skip
@click.option("--all", "every", is_flag=True, help="Rehearse every assignment of the course.")
@click.option("--ids", "--students", "ids", type=click.IntRange(1, 20000),
              help="How many invented ids; as many as leave no known wrong answer untried if not said.")  # fmt: skip
@click.option("--by", type=click.Choice(BY),
              help="Who marks: linkkit's sandboxed marker, which is taken where there is a sandbox, or nbgrader's own "
                   "autograde (slow).")  # fmt: skip
@click.option("--hostile", is_flag=True, help="Also hand in scripts that attack the marking (not with nbgrader).")
@click.option("--course", default=HERE, type=click.Path(path_type=Path, file_okay=False), help="The nbgrader course.")
def command(names: tuple[str, ...], every: bool, ids: int | None, by: str | None, hostile: bool, course: Path) -> None:
    """Mark invented scripts of known worth in a scratch course, and compare.

    Each known wrong answer of each question is handed in, and scripts that are right, broken or, on request, hostile.
    Marks, feedback and one worked solution stay in the scratch course; yours is not touched. Ends with an exit code of
    1 if any mark differs from the one expected.
    """
    if hostile and by == "nbgrader":
        raise click.UsageError("nbgrader's own marking has no sandbox: hostile scripts are only for --by linkkit")
    console, good, by = Console(), True, _marker(by, hostile)
    columns = (TextColumn("{task.description}"), BarColumn(), MofNCompleteColumn(), TimeElapsedColumn())
    for name in _chosen(course, names, every):
        scratch = Path(tempfile.mkdtemp(prefix=f"rehearsal-{name}-"))
        with Progress(*columns, console=console) as progress:
            bar = progress.add_task(f"{name}: releasing", total=None)
            done = rehearse(
                name, course, scratch, ids=ids, hostile=hostile, by=by, workers=lanes(),
                seen=lambda doing, n, of, bar=bar, name=name, progress=progress: progress.update(
                    bar, description=f"{name}: {doing}", completed=n, total=of),
            )  # fmt: skip
        _say(console, done, scratch)
        console.print(f"A worked solution: {_solution(done, scratch)}", soft_wrap=True, highlight=False)
        good = good and done.agrees
    raise SystemExit(0 if good else 1)
