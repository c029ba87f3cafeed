"""Answers that a person marks: prose and drawings, with the points that count and the student's own right picture."""

from __future__ import annotations

from collections.abc import Mapping
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
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; img-src data:; style-src 'unsafe-inline'">
<style>body {{ font: 1rem/1.4 Georgia, serif; max-width: 80em; margin: 2em auto; padding: 0 1em }}
.two {{ display: grid; grid-template-columns: repeat(auto-fit, minmax(22em, 1fr)); gap: 1.5em; align-items: start }}
.two > div {{ border-top: 2px solid #1a1a1a }} svg, img {{ max-width: 100%; height: auto }} figure {{ margin: 1em 0 }}
.given {{ white-space: pre-wrap; overflow-wrap: anywhere }}</style>
</head><body><main><h1>{title}</h1><p>Numbers of the id <strong>{student}</strong>.</p>{questions}</main></body></html>
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


def tutor_page(assignment: Assignment, student: str, handed_in: Mapping[str, str] | None = None) -> str:
    """The page that a tutor marks by: what counts, what a good answer says, the right picture for these numbers.

    Parameters
    ----------
    handed_in : mapping of question id to str, optional
        The student's answers as harmless HTML; each is set beside the right one.

    Examples
    --------
    >>> from linkkit.coursework import find_assignment
    >>> "Marked by a tutor" in tutor_page(find_assignment("mixed-paper"), "ab123")
    True
    """
    asked = [q for q in assignment.questions if isinstance(q.kind, Written)]
    body = "".join(_question(q, assignment, student, handed_in) for q in asked)
    title = f"{assignment.title}: what is marked by hand"
    return PAGE.format(
        title=escape(title), student=escape(student), questions=body or "<p>Nothing here is marked by hand.</p>"
    )


def _question(question: Question, assignment: Assignment, student: str, handed_in: Mapping[str, str] | None) -> str:
    """One question of the tutor's page."""
    givens = assignment.givens(question.setting, student)
    numbers = "; ".join(f"{label} {value}" for label, value, _ in givens.rows())
    asked = "".join(f"<p>{escape(t)}</p>" for t in (question.ask, f"Numbers: {numbers}.", question.kind.sentence()))
    picture = question.picture(givens) if question.picture else ""
    right = f"<div><h3>What is right</h3><p>{escape(str(question.right(givens)))}</p><figure>{picture}</figure></div>"
    given = ""
    if handed_in is not None:
        text = handed_in.get(question.id) or "Nothing was handed in."
        given = f'<div><h3>What was handed in</h3><div class="given">{text}</div></div>'
    return f'<h2>{escape(question.title)} ({question.marks:g} marks)</h2>{asked}<div class="two">{given}{right}</div>'
