"""A worked solution as a notebook: the same numbers, methods, pictures and marks, computed again when it is run."""

from __future__ import annotations

import json
from textwrap import indent

from ..coursework.answers import Function, plain
from ..coursework.givens import Setting
from ..coursework.question import Assignment, Question
from ..coursework.verdict import Verdict, judge
from .worked import SAMPLE, DisagreementError

BEGIN = """import numpy as np

import linkkit as lk
from linkkit.coursework import find_assignment
from linkkit.draw import breakdown_picture, construction
from linkkit.solutions.notebook import marked

assignment = find_assignment({assignment})
student = {student}"""


def build(assignment: Assignment, student: str):
    """The notebook as an nbformat node.

    Examples
    --------
    >>> from linkkit.coursework import find_assignment
    >>> cells = build(find_assignment("forces"), "ab123").cells
    >>> cells[0].source.splitlines()[0]
    '# Forces at running speed: worked solution'
    """
    import nbformat.v4 as v4

    opening = f"# {assignment.title}: worked solution\n\nFor the numbers of one student. Run all cells; each answer ends with "
    opening += "what the marker says of it."
    cells = [("markdown", "opening", opening), ("code", "set-up", _set_up(assignment, student))]
    for setting in assignment.settings:
        cells += _about(setting, assignment, student)
    make = {"markdown": v4.new_markdown_cell, "code": v4.new_code_cell}
    kernel = {"display_name": "Python 3 (ipykernel)", "language": "python", "name": "python3"}
    return v4.new_notebook(cells=[make[kind](source, id=name) for kind, name, source in cells],
                           metadata={"kernelspec": kernel, "language_info": {"name": "python"}})  # fmt: skip


def _set_up(assignment: Assignment, student: str) -> str:
    return BEGIN.format(assignment=json.dumps(assignment.id), student=repr(student))


def _about(setting: Setting, assignment: Assignment, student: str) -> list[tuple[str, str, str]]:
    """The cells of one machine and its questions."""
    name = setting.id.rpartition("-")[2]
    cells = [
        ("markdown", f"{setting.id}-story", f"## {setting.title}\n\n{setting.story}"),
        ("code", f"{setting.id}-numbers", f'{name} = assignment.givens("{setting.id}", student)\n{name}'),
        *_pictured(setting, name),
    ]
    for question in assignment.asked_on(setting.id):
        cells += _asked(question, name, assignment)
    return cells


def _pictured(setting: Setting, name: str) -> list[tuple[str, str, str]]:
    """The machine taken apart, and constructed where it has a position."""
    if setting.machine is None:
        return []
    machine = f'assignment.setting("{setting.id}").machine({name})'
    if not any(given.name == "crank_angle_deg" for given in setting.givens):
        return [("code", f"{setting.id}-apart", f"breakdown_picture({machine})")]
    return [
        ("code", f"{setting.id}-apart", f"here = lk.move({machine}, {name}.crank_angle)\nbreakdown_picture(here, 0)"),
        ("code", f"{setting.id}-constructed", "construction(here, 0)"),
    ]


def _asked(question: Question, name: str, assignment: Assignment) -> list[tuple[str, str, str]]:
    """Statement, the method's steps, the answer as code, and what the marker says."""
    number, key = assignment.questions.index(question) + 1, question.id.replace("_", "-")
    marks = f"{question.marks:g} mark{'s' if question.marks != 1 else ''}"
    words = f"### {number}. {question.title} ({marks})\n\n{question.ask}\n\n*{question.kind.sentence()}*"
    steps = f'print(*assignment.by_id["{question.id}"].by_hand({name}).steps, sep="\\n")'
    cells = [("markdown", f"{key}-ask", words), ("code", f"{key}-steps", steps)]
    if question.marked_by_hand:
        return [*cells, ("code", f"{key}-answer", f'print(assignment.by_id["{question.id}"].right({name}))')]
    answer = f'{_solution(question)}\nmarked(assignment, student, "{question.id}", {question.id})'
    return [*cells, ("code", f"{key}-answer", answer)]


def _solution(question: Question) -> str:
    """The answer as code; the heading first where it is a function."""
    if isinstance(question.kind, Function):
        return f"{question.kind.stub(question.id)}\n{indent(question.model.strip(), '    ')}\n\n"
    return question.model.strip()


def marked(assignment: Assignment, student: str, name: str, answer) -> Verdict:
    """What the marker says of an answer to a question with a student's numbers.

    Parameters
    ----------
    answer : number, str, tuple, dict, list or callable
        As it would stand in the student's notebook.

    Raises
    ------
    DisagreementError
        If it is not right: a worked solution has to be.
    """
    question = assignment.by_id[name]
    givens, inputs = assignment.givens(question.setting, student), None
    if isinstance(question.kind, Function):
        inputs = [*SAMPLE, *range(question.kind.many - len(SAMPLE))]
    raw = question.kind.call(answer, inputs) if inputs else plain(answer)
    verdict = judge(question, givens, raw, inputs=inputs)
    if verdict.code != "right":
        raise DisagreementError(f"{name}: the marker says “{verdict.says}” ({verdict.code})")
    return verdict
