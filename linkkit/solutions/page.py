"""The worked solution for one student's numbers as one HTML page that needs no other file."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from ..coursework.givens import Setting
from ..coursework.question import Assignment
from . import mathml
from .machine import Machine
from .worked import solved

TITLES = {
    "four_bar": "The closed form of the four-bar",
    "slider_crank": "The closed form of the slider-crank",
    "inverted_slider_crank": "The closed form of the inverted slider-crank",
}


@cache
def template(name: str, package: str = "linkkit.solutions"):
    """A page's template, read and compiled once a process; the style of all pages is with those of this package."""
    from jinja2 import ChoiceLoader, Environment, PackageLoader, StrictUndefined

    loader = ChoiceLoader([PackageLoader(place, ".") for place in dict.fromkeys((package, "linkkit.solutions"))])
    pages = Environment(loader=loader, autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True)
    return pages.get_template(name)


def render(assignment: Assignment, student: str) -> str:
    """The worked solution as HTML.

    Raises
    ------
    DisagreementError
        If the method by hand and the marker do not come to the same.

    Examples
    --------
    >>> from linkkit.coursework import find_assignment
    >>> from linkkit.solutions import render
    >>> "worked solution" in render(find_assignment("forces"), "ab123")
    True
    """
    settings = [about(setting, assignment, student) for setting in assignment.settings]
    used = dict.fromkeys(c["form"]["formula"] for s in settings for c in s["chains"] if c["form"])
    derived = [{"id": name, "title": TITLES[name], "steps": mathml.steps(name)} for name in used]
    return template("page.html").render(assignment=assignment, student=student, settings=settings, derived=derived)


def about(setting: Setting, assignment: Assignment, student: str) -> dict:
    """What the page says about one machine: story, numbers, chains, pictures, the questions."""
    givens, asked = assignment.givens(setting.id, student), assignment.asked_on(setting.id)
    machine = Machine.of(setting, givens, {q.concept for q in asked})
    return {
        "id": setting.id,
        "title": setting.title,
        "story": [paragraph(part) for part in setting.story.split("\n\n")],
        "numbers": givens.rows(),
        "chains": machine.chains() if machine else [],
        "pictures": machine.pictures() if machine else [],
        "questions": [solved(q, assignment, student) for q in asked],
    }


def paragraph(text: str) -> dict:
    """A paragraph of a story as plain words; a table of Markdown as its rows, the heading first.

    Examples
    --------
    >>> paragraph("| pin | mm |\\n|---|---|\\n| A | 40 |")
    {'rows': [['pin', 'mm'], ['A', '40']]}
    """
    plain = text.replace("*", "").strip()
    if not plain.startswith("|"):
        return {"words": plain}
    rows = [[cell.strip() for cell in line.strip().strip("|").split("|")] for line in plain.splitlines()]
    return {"rows": [row for row in rows if any(cell.strip("-: ") for cell in row)]}


def write_solution(assignment: Assignment, student: str, path: Path) -> Path:
    """Write the worked solution for one student; the path."""
    path.write_text(render(assignment, student), encoding="utf-8")
    return path
