"""Answers that a person marks: prose and drawings, with the points that count and the student's own right picture."""

from __future__ import annotations

from dataclasses import dataclass
from html import escape
from typing import TYPE_CHECKING

import numpy as np

from .answers import Reading

if TYPE_CHECKING:
    from .question import Assignment, Question

BY_HAND = "a tutor marks this one, by the points in its statement."
DRAWING = (
    "Draw on paper or with any program, and put a photograph, a scan or the picture into the cell below: open the cell "
    "and paste it or drag the file in. Say in a few words what it shows, for readers who cannot see it."
)
PAGE = """<!doctype html>
<html lang="en"><head><meta charset="utf-8"><title>{title}</title>
<style>body {{ font-family: sans-serif; max-width: 50em; margin: 2em auto; line-height: 1.4 }} svg {{ max-width: 100% }}</style>
</head><body><h1>{title}</h1><p>Numbers of the id <strong>{student}</strong>.</p>{questions}</body></html>
"""


@dataclass(frozen=True)
class Written:
    """Prose, or a drawing, marked by hand: `points` are what counts, each with its marks. The value is a text."""

    points: tuple[tuple[str, float], ...]
    drawing: bool = False

    def read(self, raw) -> Reading:
        """It is not read here."""
        return Reading.refused("by-hand", f"It is not read here: {BY_HAND}")

    def same(self, given, right) -> np.ndarray:
        """A person decides; only one and the same text is the same."""
        return np.asarray(given) == np.asarray(right)

    def apart(self, right, wrong) -> np.ndarray:
        """There are no known wrong answers."""
        return ~self.same(wrong, right)

    def show(self, value) -> str:
        """The text."""
        return str(value)

    def typed(self, value) -> str:
        """As a student would write it."""
        return str(value)

    def sentence(self) -> str:
        """What counts, for the statement."""
        points = "; ".join(f"{what} ({marks:g})" for what, marks in self.points)
        return f"{DRAWING + ' ' if self.drawing else ''}Marked by a tutor: {points}."

    def stub(self, name: str) -> str:
        """Nothing: the student starts with an empty cell."""
        return ""


def tutor_page(assignment: Assignment, student: str) -> str:
    """The page that a tutor marks by: what counts, what a good answer says, the right picture for these numbers.

    Examples
    --------
    >>> from linkkit.coursework import find_assignment
    >>> "Marked by a tutor" in tutor_page(find_assignment("mixed-paper"), "ab123")
    True
    """
    asked = [q for q in assignment.questions if isinstance(q.kind, Written)]
    body = "".join(_question(q, assignment, student) for q in asked) or "<p>Nothing here is marked by hand.</p>"
    title = f"{assignment.title}: what is marked by hand"
    return PAGE.format(title=escape(title), student=escape(student), questions=body)


def _question(question: Question, assignment: Assignment, student: str) -> str:
    """One question of the tutor's page."""
    givens = assignment.givens(question.setting, student)
    numbers = "; ".join(f"{label} {value}" for label, value, _ in givens.rows())
    paragraphs = [question.ask, f"Numbers: {numbers}.", question.kind.sentence(), question.right(givens)]
    words = "".join(f"<p>{escape(str(text))}</p>" for text in paragraphs)
    picture = question.picture(givens) if question.picture else ""
    return f"<h2>{escape(question.title)} ({question.marks:g} marks)</h2>{words}<figure>{picture}</figure>"
