"""The assignments of the course: one for each lesson and a mixed paper, each a choice from the question bank."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from . import bank
from .question import Assignment


@dataclass(frozen=True)
class Outline:
    """An assignment: its title, the words it opens with, the ids of its questions in the order of their machines."""

    title: str
    opening: str
    questions: tuple[str, ...]


OUTLINES = {
    "four-links": Outline(
        "Four links in a loop",
        "Four machines from Marrow Quay, each a loop of four links, with dimensions of your own. Draw, calculate and, "
        "at one point, program. Each question says how near your answer has to be.",
        (
            "link_kinds", "lamp_class", "hatch_class", "rocker_angle", "transmission_here", "far_limit", "swing",
            "time_ratio", "least_transmission", "rocker_at", "slider_at", "stroke",
        ),
    ),
}  # fmt: skip


@cache
def assignment(name: str) -> Assignment:
    """An assignment by its name; its settings in the order in which its questions come to them.

    Examples
    --------
    >>> [setting.title for setting in assignment("four-links").settings][-1]
    'The ice chopper'
    """
    outline, questions = OUTLINES[name], bank.questions()
    asked = tuple(questions[q] for q in outline.questions)
    settings = dict.fromkeys(question.setting for question in asked)
    return Assignment(
        id=name,
        title=outline.title,
        opening=outline.opening,
        settings=tuple(bank.settings()[s] for s in settings),
        questions=asked,
    )
