"""`linkkit design`: candidates for a brief as a table, their pictures, and the machine file of the best."""

from __future__ import annotations

from dataclasses import dataclass, replace
from html import escape
from pathlib import Path

import click
import numpy as np
from rich.box import SIMPLE
from rich.console import Console
from rich.progress import BarColumn, Progress, TextColumn, TimeRemainingColumn
from rich.table import Table

from .briefs import TASKS, read_brief
from .design.result import CAUTION, quantity
from .errors import LinkageError
from .machine_file import write

MOST_FIGURES = 12
CALLED = {
    "along": "P along AB, from A", "across": "P across AB, to its left", "frame": "direction of OQ", "x": "O.x", "y": "O.y",
    "crank pointer": "crank's pointer, from OA", "rocker pointer": "rocker's pointer, from QB", "start": "crank at the start",
    "end": "crank at the end",
}  # fmt: skip


@click.command("design", epilog=f"Tasks: {', '.join(TASKS)}. A brief of a task alone is told what it needs.")
@click.argument("brief", type=click.Path(exists=True, dir_okay=False, path_type=Path))
@click.option(
    "--machine", type=click.Path(dir_okay=False, path_type=Path), help="Write the chosen one as a machine file (.toml)."
)
@click.option(
    "--page", type=click.Path(dir_okay=False, path_type=Path), help="Draw and animate all of them in a page (.html)."
)
@click.option(
    "--picture", type=click.Path(dir_okay=False, path_type=Path), help="Draw the chosen one: .svg, .png or .pdf."
)
@click.option("--choose", default=1, show_default=True, help="Which candidate is written and drawn.")
def command(brief, machine, page, picture, choose):
    """Find the dimensions that a BRIEF asks for.

    BRIEF is a TOML file: a task, and what it needs, in millimetres and degrees. Ctrl-C ends a search with the best so far.

    \b
        task = "crank-rocker"
        swing_deg = 40
        time_ratio = 1.25
        rocker_mm = 250
    """
    console = Console(highlight=False)
    _endings((machine, (".toml",)), (page, (".html", ".htm")), (picture, (".svg", ".png", ".pdf")))
    asked = read_brief(brief)
    found = _watched(asked)
    console.print(table(found, asked.title))
    if not 1 <= choose <= len(found):
        raise LinkageError(f"--choose is the number of a candidate, 1 to {len(found)}, not {choose}")
    chosen = found[choose - 1]
    console.print(facts_table(chosen, choose))
    console.print(CAUTION)
    for path, save in ((machine, _machine), (picture, _picture)):
        if path:
            save(chosen, asked, path)
            console.print(f"Candidate {choose} is in {path}")
    if page:
        _page(found, asked, page)
        console.print(f"All {len(found)} are drawn in {page}")


def _endings(*paths):
    for path, allowed in paths:
        if path and path.suffix.lower() not in allowed:
            raise LinkageError(f"{path.name} must end in {' or '.join(allowed)}")


def _watched(asked):
    """The designs, with a bar that shows how the search gets on."""
    columns = TextColumn("{task.description}"), BarColumn(), TextColumn("{task.fields[best]}"), TimeRemainingColumn()
    with Progress(*columns, console=Console(stderr=True), transient=True) as bar:
        row = bar.add_task("starting", total=1, best="")

        def told(now):
            best = f"least error {now.best:.3g}" if np.isfinite(now.best) else ""
            bar.update(row, description=now.stage, completed=now.done, total=now.total, best=best)

        return asked.run(progress=told)


def table(found, title) -> Table:
    """The candidates of a brief: a rich table."""
    early = " (stopped early)" if found.stopped else ""
    shown = Table(title=f"{title}: {len(found)} of {found.tried} candidates{early}", title_justify="left",
                  title_style="bold", box=SIMPLE, pad_edge=False)  # fmt: skip
    for column in ("", "error", "transmission angle", "defects"):
        shown.add_column(column, overflow="fold")
    for n, one in enumerate(found, 1):
        shown.add_row(
            str(n), f"{one.error:.3g}", one.figures.get("transmission angle", ""), "; ".join(one.defects) or "none"
        )
    return shown


def facts_table(one, number) -> Table:
    """One candidate's dimensions and figures."""
    shown = Table(
        title=f"Candidate {number}",
        title_justify="left",
        title_style="bold",
        box=SIMPLE,
        pad_edge=False,
        show_header=False,
    )
    for row in rows(one):
        shown.add_row(*row)
    return shown


def rows(one):
    """The dimensions and the figures of a candidate, each with its name."""
    values = list(one.values.items())[: 2 * MOST_FIGURES]
    return [*((CALLED.get(name, name), quantity(name, value)) for name, value in values), *one.figures.items()]


def _named(one, asked):
    return replace(one.linkage, name=asked.title)


def _machine(one, asked, path):
    write(_named(one, asked), path)


def _picture(one, asked, path):
    _diagram(one, asked).save(path)


def _diagram(one, asked):
    """The candidate with the path of its tracer, and a cross at each place that it was to pass."""
    from .draw import line_diagram
    from .draw.scene import Path

    scene = line_diagram(one.motion, paths=_tracers(one), title=asked.title)
    if asked.places is None:
        return scene
    arms = [6 * scene.px * d for d in (1 + 1j, 1 - 1j)]
    marks = [Path((complex(z - arm), complex(z + arm)), "answer", "motion") for z in asked.places for arm in arms]
    return scene.plus(*marks, words="A cross stands at each place that P is to pass.")


def _tracers(one):
    """The points whose paths are worth drawing: P, and the first point of a link that does not reach the frame."""
    return [p for p in ("P", "T", "R") if p in one.linkage.points][:1]


@dataclass(frozen=True)
class Told:
    """What stands on a page between its pictures."""

    html: str

    def _repr_html_(self):
        return self.html


def _page(found, asked, path):
    from .draw import animation, save_page

    parts = []
    for n, one in enumerate(found, 1):
        parts += [animation(one.motion, paths=_tracers(one), title=f"{asked.title}, candidate {n}"), _numbers(one)]
    save_page(path, asked.title, *parts, Told(f"<p>{CAUTION}</p>"))


def _numbers(one):
    """A candidate's dimensions, figures and defects as a table of a page."""
    told = [*rows(one), ("defects", "; ".join(one.defects) or "none")]
    cells = (f'<tr><th scope="row" style="text-align:left">{escape(a)}</th><td>{escape(b)}</td></tr>' for a, b in told)
    return Told(f"<table>{''.join(cells)}</table>")
