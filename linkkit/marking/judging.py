"""From plain answers to verdicts, in a process that never runs a student's code."""

from __future__ import annotations

from ..coursework.answers import Function
from ..coursework.givens import tidy_id
from ..coursework.question import Assignment, Question
from ..coursework.verdict import Verdict, for_another_id, judge
from .execution import Executed
from .rebuild import Cell


def secret_inputs(assignment: Assignment, student: str, key: str) -> dict[str, list | None]:
    """What each question's function is called with; None where a value is asked for."""
    return {q.id: _inputs(q, assignment, student, key) for q in assignment.questions}


def _inputs(question: Question, assignment: Assignment, student: str, key: str) -> list | None:
    if not isinstance(question.kind, Function):
        return None
    return question.inputs(f"{assignment.id}|{tidy_id(student)}", key).tolist()


def judged(assignment: Assignment, student: str, cells: list[Cell], done: Executed, inputs: dict) -> dict[str, Verdict]:
    """A verdict for each graded cell, by its name; what was never reached is not marked, with the reason."""
    return {cell.name: _verdict(assignment, student, cell, done, inputs) for cell in cells}


def _verdict(assignment: Assignment, student: str, cell: Cell, done: Executed, inputs: dict) -> Verdict:
    question = assignment.by_id.get(cell.question)
    if question is None:
        return Verdict.not_marked(cell.points, f"this assignment has no question {cell.question} any more.")
    if cell.name not in done.raws and cell.name not in done.errors:
        return Verdict.not_marked(cell.points, "the script ended itself too often before this question was reached.")
    raw = done.raws.get(cell.name, _lost(question, done.errors.get(cell.name, "")))
    try:
        return _judged_with_id(assignment, student, question, raw, done.typed, inputs[question.id])
    except Exception as error:  # ours: what the student gave is plain by now
        return Verdict.not_marked(cell.points, f"the marker failed ({type(error).__name__}). Tell your tutor.")


def _lost(question: Question, error: str):
    """What stands for an answer that could not be taken."""
    return {"failed": error} if isinstance(question.kind, Function) else None


def _judged_with_id(assignment, student, question, raw, typed: str, inputs) -> Verdict:
    """The verdict; where the answer is right for the id that was typed in the notebook instead, that is said."""
    verdict = judge(question, assignment.givens(question.setting, student), raw, inputs=inputs)
    if verdict.code == "right" or not tidy_id(typed) or tidy_id(typed) == tidy_id(student):
        return verdict
    other = judge(question, assignment.givens(question.setting, typed[:64]), raw, inputs=inputs)
    return for_another_id(verdict, tidy_id(typed), tidy_id(student)) if other.code == "right" else verdict
