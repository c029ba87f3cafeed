"""What a person marks: the right picture for the student's numbers, beside the answer in nbgrader's pages and on pages of ours."""

from __future__ import annotations

import json
from html import escape
from pathlib import Path
from urllib.parse import quote

import click

from ..coursework import find_assignment
from ..coursework.question import Assignment
from ..coursework.written import tutor_page
from . import attached, handed_in
from .course import Course, CourseError, write_whole
from .for_students import TAG, HideFromStudents
from .rebuild import BrokenNotebook, Master, rebuild
from .scripts import answer_cell

INDEX = """<!doctype html><html lang="en"><head><meta charset="utf-8"><title>{title}</title></head>
<body><main><h1>{title}</h1><ul>{rows}</ul></main></body></html>
"""


def hidden_from_students(course: Path, assignment: Assignment) -> bool:
    """May the right pictures stand in the marked notebooks: does the course keep them out of students' feedback?"""
    from traitlets.config.loader import ConfigFileNotFound, PyFileConfigLoader

    if all(q.picture is None for q in assignment.questions if q.marked_by_hand):
        return False
    try:
        steps = (
            PyFileConfigLoader("nbgrader_config.py", str(course))
            .load_config()
            .GenerateFeedback.get("preprocessors", [])
        )
    except ConfigFileNotFound:
        return False
    return HideFromStudents in (steps.get_value([]) if hasattr(steps, "get_value") else steps)


def with_pictures(notebook: str, assignment: Assignment, student: str) -> str:
    """A marked notebook with the right picture below each cell that a person marks, for the tutor's eyes only."""
    beside = {answer_cell(q): q for q in assignment.questions if q.marked_by_hand and q.picture}
    made = json.loads(notebook)
    cells = []
    for cell in made["cells"]:
        cells.append(cell)
        question = beside.get(cell["id"])
        if question:
            cells.append(_picture_cell(cell["id"], question.picture(assignment.givens(question.setting, student))))
    return json.dumps(made | {"cells": cells})


def _picture_cell(name: str, svg: str) -> dict:
    # as part of the page, since nbgrader's pages give a picture that stands by itself no words for those who can't see it
    output = {"output_type": "display_data", "metadata": {}, "data": {"text/html": svg, "text/plain": "a drawing"}}
    return {"cell_type": "code", "id": f"{name}-right", "metadata": {"tags": [TAG]}, "execution_count": None,
            "source": "# for the tutor: right for these numbers", "outputs": [output]}  # fmt: skip


def page(course: Course, assignment: Assignment, master: Master, student: str) -> str:
    """The tutor's page for one student, with what they handed in beside what is right."""
    handed, answers = handed_in.read(course.place, assignment.id, student), {}
    try:
        rebuilt = None if handed.fault else rebuild(master, handed.notebook)
    except BrokenNotebook:
        rebuilt = None  # the page then says that nothing was handed in; the feedback says why
    for question in assignment.questions if rebuilt else ():
        cell = answer_cell(question)
        answers[question.id] = attached.shown(rebuilt.answers.get(cell, ""), rebuilt.pictures.get(cell, {}))
    return tutor_page(assignment, student, answers)


@click.command("by-hand")
@click.argument("assignment")
@click.option("--student", help="Only this id.")
@click.option(
    "--course", "place", default=".", type=click.Path(path_type=Path, file_okay=False), help="The nbgrader course."
)
def command(assignment, student, place):
    """Write pages to mark prose and drawings by: each answer beside what is right for that student's numbers.

    They go to the folder by-hand of the course. They are for tutors: they say what is right.
    """
    course, paper = Course.open(place), find_assignment(assignment)
    if not any(q.marked_by_hand for q in paper.questions):
        raise CourseError(f"nothing in {assignment} is marked by hand")
    there = [name for name in handed_in.students(course.place, assignment) if handed_in.can_be_id(name)]
    if student is not None and student not in there:
        raise CourseError(f"{student} has handed nothing in for {assignment}")
    folder, master = course.place / "by-hand" / assignment, Master.read(course.master(assignment))
    for one in [student] if student else there:
        write_whole(folder / f"{one}.html", page(course, paper, master, one))
    if not student:
        rows = "".join(f'<li><a href="./{quote(one)}.html">{escape(one)}</a></li>' for one in there)
        write_whole(folder / "index.html", INDEX.format(title=escape(f"{paper.title}: by hand"), rows=rows))
    click.echo(f"{1 if student else len(there)} pages are in {folder}")
