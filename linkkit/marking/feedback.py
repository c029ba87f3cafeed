"""A student's feedback: what is wrong and what to do next, never what would have been right or how it was tested."""

from __future__ import annotations

from functools import lru_cache

from ..coursework.question import Assignment
from ..coursework.verdict import Verdict
from .rebuild import Cell

LARGEST = 200_000  # characters of one page


@lru_cache(maxsize=1)
def _template():
    from jinja2 import Environment, PackageLoader, StrictUndefined

    pages = Environment(loader=PackageLoader("linkkit.marking", "."), autoescape=True, undefined=StrictUndefined,
                        trim_blocks=True, lstrip_blocks=True)  # fmt: skip
    return pages.get_template("feedback_page.html")


def page(
    assignment: Assignment,
    graded: list[Cell],
    student: str,
    verdicts: dict[str, Verdict],
    said: tuple[str, ...] = (),
    fault: str = "",
    late: float = 0.0,
    errors: dict[str, str] | None = None,
    credit: bool = True,
) -> str:
    """The page as HTML; everything that a student wrote is escaped and cut."""
    asked = [_question(assignment, cell, verdicts[cell.name], errors or {}) for cell in graded if cell.name in verdicts]
    earned = sum(v.marks or 0.0 for v in verdicts.values())
    text = _template().render(
        title=assignment.title,
        student=student,
        asked=asked,
        said=[line[:500] for line in said[:40]],
        fault=fault[:1000],
        late=late,
        earned=round(earned - late, 2),
        of=sum(v.of for v in verdicts.values()),
        unmarked=sum(v.marks is None for v in verdicts.values()),
        credit=credit,
        by_hand=[f"{q.title} ({q.marks:g})" for q in assignment.questions if q.marked_by_hand],
    )
    return text if len(text) <= LARGEST else page(assignment, graded, student, {}, said, "This page is too long.")


def _question(assignment: Assignment, cell: Cell, verdict: Verdict, errors: dict[str, str]) -> dict:
    """What the page says about one question."""
    question = assignment.by_id.get(cell.question)
    return {
        "number": assignment.questions.index(question) + 1 if question else "",
        "title": question.title if question else cell.name,
        "marks": verdict.marks,
        "of": verdict.of,
        "says": verdict.says[:1000],
        "read": verdict.read[:300],
        "stopped": errors.get(f"{cell.question.replace('_', '-')}-answer", "")[:400] if verdict.code == "blank" else "",
    }
