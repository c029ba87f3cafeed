"""What a worked solution says of one question: the method in steps, the answer, a check, the usual wrong answers."""

from __future__ import annotations

from ..coursework.answers import Function, Number, Table
from ..coursework.givens import Givens
from ..coursework.listed import ChainList, Positions
from ..coursework.question import Assignment, Question
from ..coursework.verdict import judge

SAMPLE = (-0.5, 0.0, 1.0, 2.5, 4.0)  # radians: where a function that is asked for is tabulated


class DisagreementError(ValueError):
    """The method by hand and the marker do not come to the same: such a page must not be handed out."""


def solved(question: Question, assignment: Assignment, student: str) -> dict:
    """One question of the page.

    Raises
    ------
    DisagreementError
        If the marker would not give the answer of the method its marks.
    """
    givens = assignment.givens(question.setting, student)
    worked = question.by_hand(givens)
    return {
        "id": question.id,
        "number": assignment.questions.index(question) + 1,
        "title": question.title,
        "marks": f"{question.marks:g}",
        "ask": question.ask,
        "steps": worked.steps,
        "answer": shown(question, right(question, givens)),
        "accepted": question.kind.sentence(),
        "check": check(question, givens, worked, student),
        "wrong": [_known(question, givens, m) for m in question.misconceptions],
        "svg": question.picture(givens) if question.picture else "",
    }


def right(question: Question, givens: Givens):
    """The answer; of a function that is asked for, a few of its values."""
    return question.right(givens, SAMPLE if isinstance(question.kind, Function) else None)


def shown(question: Question, value) -> list[tuple[str, str]]:
    """An answer as (what, value) rows; a single value has no name."""
    kind = question.kind
    if isinstance(kind, Function):
        return [(f"at {x:g} rad", f"{v:.6g} {kind.unit}".strip()) for x, v in zip(SAMPLE, value, strict=True)]
    if isinstance(kind, Positions):
        return [(row, degrees(str(text))) for row, text in kind.typed(value).items()]
    if isinstance(kind, Table):
        return list(zip(kind.rows, map(str, value), strict=True))
    if isinstance(kind, ChainList):
        rows = [part.partition(": ") for part in kind.show(value).split("; ")]
        return [(number, words.removeprefix("kind ").replace(",", ":", 1)) for number, _, words in rows]
    return [("", spoken(kind, value))]


def spoken(kind, value) -> str:
    """A single value as it is read aloud."""
    return degrees(kind.show(value)) if isinstance(kind, Number) else kind.show(value)


def degrees(text: str) -> str:
    """A value with its unit, degrees written out."""
    return f"{text.removesuffix(' deg')} degrees" if text.endswith(" deg") else text


def _known(question: Question, givens: Givens, known) -> dict:
    """A usual wrong answer, what it comes from, and the marks that it earns."""
    inputs = SAMPLE if isinstance(question.kind, Function) else None
    value = shown(question, question.wrong(known, givens, inputs))
    words = "; ".join(f"{what}: {v}" if what else v for what, v in value)
    return {"value": words, "says": known.says, "marks": f"{round(known.share * question.marks, 2):g}"}


def check(question: Question, givens: Givens, worked, student: str) -> str:
    """The value of the method beside that of the solver, which goes another way; and what the marker says of it."""
    if question.marked_by_hand:
        return "A person marks this one, by the points that count."
    if isinstance(question.kind, Function):
        hand, solver = worked.value, question.right(givens, (1.0,))[0]
        _refuse(question, question.kind.tolerance.holds(hand, solver), student)
        return (
            f"At one radian the method by hand gives {hand:.9g}, and the solver, which goes another way, {solver:.9g}."
        )
    verdict = judge(question, givens, question.kind.typed(worked.value))
    _refuse(question, verdict.code == "right", student)
    marks = f"Handed in as an answer, the result of the method earns {verdict.marks:g} of {verdict.of:g} marks."
    if isinstance(question.kind, Number) and question.kind.unit:
        solver = _exact(question.kind, question.right(givens))
        return f"The method gives {_exact(question.kind, worked.value)} and the solver, which goes another way, {solver}. {marks}"
    if hasattr(question.kind, "brief"):
        return f"This is one design among many; each is marked by what it does. {marks}"
    return f"The solver, which goes another way, finds the same. {marks}"


def _exact(kind: Number, value) -> str:
    """A value with more figures than anybody needs, to compare; turns left out as in `show`."""
    number = float(value) / kind.asked.worth
    number = (number + 180) % 360 - 180 if kind.tolerance.turn else number
    return f"{number:.8g} {'degrees' if kind.unit == 'deg' else kind.unit}"


def _refuse(question: Question, agrees, student: str) -> None:
    if not agrees:
        raise DisagreementError(
            f"{question.id}: for the numbers of {student!r} the method by hand does not come to what the marker takes for "
            "right. No page was written; the question has to be corrected"
        )
