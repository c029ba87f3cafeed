"""Worked solutions for one student's numbers, from the same functions as the marks."""

from __future__ import annotations

from pathlib import Path

from .breakdown import breakdown
from .coursework.answers import Choice, Function, Table
from .coursework.givens import Setting
from .coursework.question import Assignment, Question

PAGE = Path(__file__).parent / "solution_page.html"
SAMPLE = (-0.5, 0.0, 1.0, 2.5, 4.0)  # crank angles (radians) at which a function asked for is tabulated


def solved(question: Question, assignment: Assignment, student: str) -> dict:
    """What the page says about one question: method, answer, check by another route, usual wrong answers."""
    givens = assignment.givens(question.setting, student)
    worked = question.by_hand(givens)
    right, wrong = _values(question, givens)
    return {
        "number": assignment.questions.index(question) + 1,
        "title": question.title,
        "marks": f"{question.marks:g}",
        "ask": question.ask,
        "steps": worked.steps,
        "answer": right,
        "check": _check(question, givens, worked),
        "wrong": wrong,
    }


def _values(question: Question, givens) -> tuple[str, list[tuple[str, str]]]:
    """The answer and the usual wrong ones, as they are read."""
    inputs = SAMPLE if isinstance(question.kind, Function) else None
    shown = _sampled if inputs else question.kind.show
    known = [(shown(question.wrong(m, givens, inputs)), m.says) for m in question.misconceptions]
    return shown(question.right(givens, inputs)), known


def _sampled(values) -> str:
    return "; ".join(f"{v:.6g} at {x:g}" for x, v in zip(SAMPLE, values, strict=True)) + " (radians)"


def _check(question: Question, givens, worked) -> str:
    """The answer of the method above beside that of the solver, which goes another way."""
    if isinstance(question.kind, Function):
        at_one = question.right(givens, (1.0,))[0]
        return f"The method gives {worked.value:.6g} and the solver {at_one:.6g} at one radian."
    hand, solver = question.kind.show(worked.value), question.kind.show(question.right(givens))
    same = bool(question.kind.same(worked.value, question.right(givens)))
    if isinstance(question.kind, Table | Choice):
        return "The solver finds the same." if same else f"THE SOLVER DIFFERS: {solver}"
    return f"The method gives {hand}; the solver, which goes another way, gives {solver}."


def _about(setting: Setting, assignment: Assignment, student: str) -> dict:
    """What the page says about one machine: story, numbers, its four-link chains, the questions."""
    givens = assignment.givens(setting.id, student)
    chains = breakdown(setting.machine(givens)) if setting.machine else []
    return {
        "title": setting.title,
        "story": setting.story,
        "numbers": givens.rows(),
        "chains": [_chain_words(chain) for chain in chains],
        "questions": [solved(q, assignment, student) for q in assignment.asked_on(setting.id)],
    }


def _chain_words(chain) -> str:
    parts = (("fixed link", chain.fixed), ("input", chain.input), ("coupler", chain.coupler), ("output", chain.output))
    return f"{chain.kind}: " + ", ".join(f"{part} {link}" for part, link in parts if link)


def render(assignment: Assignment, student: str) -> str:
    """The worked solution as one HTML page."""
    from jinja2 import Environment

    settings = [_about(setting, assignment, student) for setting in assignment.settings]
    page = Environment(autoescape=True).from_string(PAGE.read_text(encoding="utf-8"))
    return page.render(assignment=assignment, student=student, settings=settings)


def write_solution(assignment: Assignment, student: str, path: Path) -> Path:
    """Write the worked solution for one student; the path."""
    path.write_text(render(assignment, student), encoding="utf-8")
    return path
