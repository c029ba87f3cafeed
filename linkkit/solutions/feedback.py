"""Feedback as a page of its own: what was wrong and what to do next; what is right only once nobody can hand in any more.

The verdicts are those of the marking, taken from its history; nothing is judged here. Before the last due time has
passed (with every extension and the grace) the page holds no answer, no picture of one, no key and no test.
"""

from __future__ import annotations

import base64
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta

from ..coursework.question import Assignment, Question
from ..coursework.shelf import SHELF
from ..coursework.verdict import Verdict
from ..marking.late import LateRules
from .own_picture import drawn
from .page import template
from .worked import right, shown

WHEN = ("after-deadline", "never", "now")
BLANK = "Nothing was handed in here. A part costs only its own marks, and a good try earns some."


@dataclass(frozen=True)
class Script:
    """What is known of one marked script: verdicts by question, marks given by hand, what the student drew.

    `drawings` are pictures by question: (kind, base64 text, file name) each.
    """

    verdicts: dict[str, Verdict]
    by_hand: dict[str, float] = field(default_factory=dict)
    drawings: dict[str, list[tuple[str, str, str]]] = field(default_factory=dict)
    said: tuple[str, ...] = ()
    fault: str = ""
    late: float = 0.0


def closed_until(rules: LateRules, assignment: str) -> datetime | None:
    """When the last student's time is over, extensions and grace included; None where no due time is set."""
    table = rules.tables.get(assignment, {})
    times = [*table.get("extensions", {}).values(), *([table["due"]] if "due" in table else [])]
    return max(times) + timedelta(minutes=rules.of(assignment, "grace_minutes")) if times and "due" in table else None


def answers_shown(rules: LateRules, assignment: str, setting: str = WHEN[0], now: datetime | None = None) -> bool:
    """May what is right be shown?

    Parameters
    ----------
    setting : {"after-deadline", "never", "now"}
        After the deadline means: never, where no due time is set in late.toml.
    """
    if setting != WHEN[0]:
        return setting == "now"
    until = closed_until(rules, assignment)
    return until is not None and (now or datetime.now(UTC)) > until


def feedback_page(assignment: Assignment, student: str, script: Script, *, answers: bool = False) -> str:
    """The page as HTML; everything that a student wrote is escaped and cut.

    Parameters
    ----------
    answers : bool
        Show what is right, see `answers_shown`.
    """
    asked = [
        _question(q, assignment, student, script, answers) for q in assignment.questions if q.id in script.verdicts
    ]
    earned = sum(item["marks"] or 0.0 for item in asked)
    return template("feedback.html").render(
        title=assignment.title, student=student, asked=asked, fault=script.fault[:1000], late=script.late,
        said=[line[:500] for line in script.said[:40]], answers=answers, earned=round(max(0.0, earned - script.late), 2),
        of=sum(item["of"] for item in asked), unmarked=sum(item["marks"] is None for item in asked),
    )  # fmt: skip


def _question(question: Question, assignment: Assignment, student: str, script: Script, answers: bool) -> dict:
    """What the page says of one question."""
    verdict = script.verdicts[question.id]
    marks = script.by_hand.get(question.id, verdict.marks)
    wrong = verdict.code != "right" and not question.marked_by_hand
    item = {
        "number": assignment.questions.index(question) + 1,
        "title": question.title,
        "marks": marks,
        "of": verdict.of,
        "says": _says(question, verdict, marks),
        "read": verdict.read[:300],
        "next": _next(question, verdict) if wrong else [],
    }
    return item | (
        _right(question, assignment, student, script, wrong) if answers else {"answer": [], "steps": [], "pictures": []}
    )


def _says(question: Question, verdict: Verdict, marks) -> str:
    if verdict.code == "blank":
        return BLANK
    if question.marked_by_hand and marks is not None:
        return "Marked by your tutor, by the points in the statement."
    return verdict.says[:1000]


def _next(question: Question, verdict: Verdict) -> list[str]:
    """What to do next, besides what the verdict says."""
    lesson = question.concept[:2]
    steps = [f"Go back to notebook {lesson} and try it there."] if lesson else []
    if verdict.code in ("wrong", "blank") and question.hint not in verdict.says:
        steps.insert(0, question.hint)
    if question.id in SHELF.by_id:
        steps.append(f'Practise it with fresh numbers as often as you like: practice("{question.id}").')
    return steps


def _right(question: Question, assignment: Assignment, student: str, script: Script, wrong: bool) -> dict:
    """After the deadline: the answer, its steps where something was lost, and the pictures side by side."""
    givens = assignment.givens(question.setting, student)
    return {
        "answer": shown(question, right(question, givens)) if script.verdicts[question.id].code != "right" else (),
        "steps": question.by_hand(givens).steps if wrong else (),
        "pictures": _pictures(question, assignment, student, script, wrong),
    }


def _pictures(question: Question, assignment: Assignment, student: str, script: Script, wrong: bool) -> list[dict]:
    """Their own picture, then the right one."""
    if question.picture:
        own = [
            {"kind": k, "data": _whole(d), "words": f"Yours: {n}"} for k, d, n in script.drawings.get(question.id, ())
        ]
        svg = question.picture(assignment.givens(question.setting, student))
        return [*own, {"svg": svg, "words": "Right for your numbers"}]
    pair = drawn(question, assignment, student, script.verdicts[question.id]) if wrong else []
    return [{"svg": picture.svg, "words": picture.words} for picture in pair]


def _whole(data: str) -> str:
    """Base64 text, made anew from its bytes, so that nothing else can stand in the page."""
    return base64.b64encode(base64.b64decode(data)).decode()
