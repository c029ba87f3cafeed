"""A whole paper marked: plain answers in, verdicts out; the same for the notebook, for nbgrader and for a cohort."""

from __future__ import annotations

from collections.abc import Mapping

from .givens import Givens, tidy_id
from .question import Assignment, Question
from .verdict import Verdict, carried, for_another_id, judge


def mark_paper(
    assignment: Assignment, student: str, raws: Mapping, inputs: Mapping | None = None, typed: str = ""
) -> dict[str, Verdict]:
    """The verdict on every question of a paper.

    Parameters
    ----------
    student : str
        The id that it was handed in under: its numbers count.
    raws : mapping of question id to plain value
        The answers, as `answers.plain` makes them; a missing one is blank. For a function, what it returned.
    inputs : mapping of question id to array
        Where the functions were called.
    typed : str
        The id that stands in the notebook, to recognise an honest slip.

    Returns
    -------
    dict of str to Verdict
        In the order of the paper. A failure of ours in one question is "not marked" there, and never stops the rest.
    """
    return {
        q.id: mark_question(assignment, student, q, raws, (inputs or {}).get(q.id), typed) for q in assignment.questions
    }


def mark_question(
    assignment: Assignment, student: str, question: Question, raws: Mapping, inputs=None, typed: str = ""
) -> Verdict:
    """The verdict on one question; see `mark_paper`."""
    try:
        return _marked(assignment, tidy_id(student), question, raws, inputs, tidy_id(typed or ""))
    except Exception as error:  # ours, not the student's: no text of theirs is executed here
        reason = f"the marker failed ({type(error).__name__}). Tell your tutor."
        return Verdict.not_marked(question.marks, reason)


def _marked(assignment, student, question, raws, inputs, typed) -> Verdict:
    """From the right answer; else from the student's own earlier ones; else say if it is right for the id typed."""
    givens, raw = assignment.givens(question.setting, student), raws.get(question.id)
    verdict = judge(question, givens, raw, inputs=inputs)
    if verdict.code == "right":
        return verdict
    if earlier := _earlier(assignment, question, givens, raws):
        verdict = carried(question, givens, raw, earlier, verdict, inputs=inputs)
    if typed and typed != student and verdict.code != "carried":
        theirs = judge(question, assignment.givens(question.setting, typed), raw, inputs=inputs)
        verdict = for_another_id(verdict, typed, student) if theirs.code == "right" else verdict
    return verdict


def _earlier(assignment: Assignment, question: Question, givens: Givens, raws: Mapping) -> dict:
    """The student's own answers (SI) to the questions that this one builds on, where they could be used."""
    found = {}
    for name in question.needs:
        reading = assignment.by_id[name].kind.read(raws.get(name))
        if reading.usable:
            found[name] = reading.value
    usable = len(found) == len(question.needs) and (question.admits is None or question.admits(givens, found))
    return found if usable else {}
