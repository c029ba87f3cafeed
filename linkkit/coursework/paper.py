"""The paper in a student's notebook: their numbers, a look over what they wrote, and their marks.

The verdicts come from `verdict.judge`, here as in the marking of a whole cohort.
"""

from __future__ import annotations

import contextlib
import html
import io
import os
import warnings
from dataclasses import replace
from pathlib import Path

from .answers import Function, plain
from .givens import Givens, tidy_id
from .key import PRACTICE, read_key
from .marks import mark_question
from .own_code import without_linkkit
from .papers import OUTLINES, assignment
from .question import Assignment, Question
from .verdict import Verdict

NO_ID = (
    "There is no student id yet. Type yours between the quotes of the cell above, exactly as it stands on "
    "your "
    "student record, and run both cells again: your numbers come from it."
)
LATER = "It is marked after you have handed in."
NO_CREDIT = "This ran without the course's key: not for credit."


class UnknownAssignment(ValueError):
    """There is no assignment of that name."""


class NoStudentId(ValueError):
    """The notebook has no usable student id."""


def find_assignment(name: str) -> Assignment:
    """An assignment by its name: one of the course's, or a lecturer's own (see `own.finding`).

    Raises
    ------
    UnknownAssignment
        With the names that there are.

    Examples
    --------
    >>> find_assignment("four-links").marks > 0
    True
    """
    if name in OUTLINES:
        return assignment(name)
    from .own import find, own_names

    own = find(name)
    if own is None:
        raise UnknownAssignment(f"there is no assignment {name!r}; there are {', '.join([*OUTLINES, *own_names()])}")
    return own


def handed_in_id() -> str:
    """The id of the submission while nbgrader marks it: the folder that it is in. Empty at any other time."""
    marking = os.environ.get("NBGRADER_EXECUTION") == "autograde"
    return tidy_id(Path.cwd().parent.name) if marking else ""


def open_paper(name: str, student_id: str, namespace: dict) -> Paper:
    """The paper of one student.

    Parameters
    ----------
    student_id : str
        As typed in the notebook. While it is marked, the id that it was handed in under counts instead.
    namespace : dict
        ``globals()`` of the notebook, where the answers are.

    Raises
    ------
    NoStudentId
        With what to do.
    """
    return Paper(find_assignment(name), student_id, handed_in_id(), namespace)


class Paper:
    """See `open_paper`."""

    def __init__(self, assignment: Assignment, typed, handed_in: str, namespace: dict):
        self.assignment, self.namespace = assignment, namespace
        self.typed, self.handed_in = tidy_id(typed or ""), handed_in
        self.student = handed_in or _checked(self.typed)
        self._key = read_key()

    def numbers(self, setting: str) -> Givens:
        """This student's numbers in a setting."""
        return self.assignment.givens(setting, self.student)

    def look_over(self, question_id: str) -> None:
        """Say how the answer is read and whether its form is in order; not whether it is right."""
        question = self.assignment.by_id[question_id]
        reading = question.kind.read(self._raw(question, self._trial_inputs(question)))
        shown = [f"Your answer is read as: {reading.shown}."] if reading.shown else []
        form = [reading.says] if reading.says else ["Its form is in order."]
        print(" ".join([*shown, *form, *([] if self.handed_in else [LATER])]))

    def mark(self, question_id: str) -> Marked:
        """The marks for one question, when nbgrader marks; otherwise only what `look_over` says."""
        question = self.assignment.by_id[question_id]
        if not self.handed_in:
            return Marked(Verdict(None, question.marks, LATER, "later"))
        return Marked(self._verdict(question))

    def _verdict(self, question: Question) -> Verdict:
        inputs = self._inputs(question)
        raws = {name: self._raw(self.assignment.by_id[name], None) for name in question.needs}
        raws[question.id] = self._raw(question, inputs)
        verdict = mark_question(self.assignment, self.student, question, raws, inputs, self.typed)
        if inputs is not None and self._key == PRACTICE:
            verdict = replace(verdict, says=f"{verdict.says} {NO_CREDIT}")
        return verdict

    def _inputs(self, question: Question):
        words = f"{self.assignment.id}|{self.student}"
        return question.inputs(words, self._key) if isinstance(question.kind, Function) else None

    def _trial_inputs(self, question: Question):
        return question.inputs("a look over", PRACTICE) if isinstance(question.kind, Function) else None

    def _raw(self, question: Question, inputs):
        """The student's answer as plain values; a function is called, and may print or warn as it likes."""
        value = self.namespace.get(question.id)
        if inputs is None:
            return plain(value)
        quiet = io.StringIO()
        alone = without_linkkit(self.namespace) if question.own_code else contextlib.nullcontext()
        with contextlib.redirect_stdout(quiet), contextlib.redirect_stderr(quiet), warnings.catch_warnings(), alone:
            warnings.simplefilter("ignore")
            return question.kind.call(value, inputs)

    def _repr_markdown_(self) -> str:
        about = self.assignment
        return f"**{about.title}** · {about.marks:g} marks · the numbers belong to the id **{self.student}**"

    def __repr__(self) -> str:
        about = self.assignment
        return f"{about.title}: {about.marks:g} marks, the numbers belong to the id {self.student}"


class Marked:
    """A verdict on the page: a sentence to read, and for nbgrader a bare number as the result of the cell.

    nbgrader takes a cell's marks from the text of its result, and gives full marks where there is no
    number; so
    there is one whatever happens.
    """

    def __init__(self, verdict: Verdict):
        self.verdict = verdict

    def __repr__(self) -> str:
        return f"{self.verdict.marks or 0.0:g}"

    def _repr_html_(self) -> str:
        verdict = self.verdict
        marks = "" if verdict.marks is None else f"<strong>{verdict.marks:g} of {verdict.of:g}.</strong> "
        return f"<p>{marks}{html.escape(verdict.says)}</p>"


def _checked(typed: str) -> str:
    """A typed id, or a sentence about it."""
    if not typed or typed == "none":
        raise NoStudentId(NO_ID)
    if len(typed) > 64 or any(not c.isprintable() or c.isspace() for c in typed):
        raise NoStudentId(f"“{typed[:64]}” can't be a student id: an id has no blanks within it. {NO_ID}")
    return typed
