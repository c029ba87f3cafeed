"""From plain answers to verdicts, in a process that never runs a student's code.

The verdicts are those of `coursework.marks.mark_paper`, as in the notebook and on nbgrader's path.
"""

from __future__ import annotations

import numpy as np

from ..coursework.answers import Function
from ..coursework.givens import tidy_id
from ..coursework.marks import mark_paper
from ..coursework.question import Assignment, Question
from ..coursework.verdict import Verdict
from .execution import Executed
from .rebuild import Cell

LONGEST_ID = 64
NO_QUESTION = "this assignment has no question {} any more."
NOT_REACHED = "the script ended itself too often before this question was reached."


def secret_inputs(assignment: Assignment, student: str, key: str) -> dict[str, list | None]:
    """What each question's function is called with; None where a value is asked for."""
    return {q.id: _inputs(q, assignment, student, key) for q in assignment.questions}


def _inputs(question: Question, assignment: Assignment, student: str, key: str) -> list | None:
    if not isinstance(question.kind, Function):
        return None
    return question.inputs(f"{assignment.id}|{tidy_id(student)}", key).tolist()


def judged(assignment: Assignment, student: str, cells: list[Cell], done: Executed, inputs: dict) -> dict[str, Verdict]:
    """A verdict for each graded cell, by its name; what was never reached is not marked, with the reason."""
    raws = {cell.question: _raw(assignment, cell, done) for cell in cells if cell.question in assignment.by_id}
    called = {name: None if x is None else np.asarray(x) for name, x in inputs.items()}
    verdicts = mark_paper(assignment, student, raws, called, done.typed[:LONGEST_ID])
    return {cell.name: _verdict(cell, done, verdicts) for cell in cells}


def _raw(assignment: Assignment, cell: Cell, done: Executed):
    """The plain answer; of a function that could not be called, what stopped it."""
    lost = (
        {"failed": done.errors.get(cell.name, "")}
        if isinstance(assignment.by_id[cell.question].kind, Function)
        else None
    )
    return done.raws.get(cell.name, lost)


def _verdict(cell: Cell, done: Executed, verdicts: dict[str, Verdict]) -> Verdict:
    if cell.question not in verdicts:
        return Verdict.not_marked(cell.points, NO_QUESTION.format(cell.question))
    if cell.name not in done.raws and cell.name not in done.errors:
        return Verdict.not_marked(cell.points, NOT_REACHED)
    return verdicts[cell.question]
