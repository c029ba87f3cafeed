"""From a student's answer to marks and a sentence: what is wrong, and what to do next."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from .answers import Function, Number, Reading, Table
from .designed import Designed
from .givens import Givens
from .listed import ChainList, Positions
from .question import Question
from .written import BY_HAND

HALF = 0.5  # the share of the marks for the right value with its unit missing, or rounded too far
CARRIED = 2 / 3  # the share of the marks for an answer that is right but for an earlier slip
FOLLOWS = (
    "This follows rightly from your own earlier answer, which was wrong: {} marks are given for it. "
    "Mend the earlier one and go through this again."
)
RIGHT = "Right."
NO_UNIT = "The value is right; the unit is missing, which is half of the answer."
ROUNDED = "This is the right value rounded too far: give three significant figures."
SIGN = "The size is right and the sign is not: look at which way is counted positive."
POWER = "The figures are right and the size is a factor of {} off: go through the units of what you put in."
EXCHANGED = {  # units that are taken for each other: (factor, calculated in, written)
    "deg": ((180 / np.pi, "degrees", "radians"), (np.pi / 180, "radians", "degrees")),
    "rad/s": ((30 / np.pi, "revolutions a minute", "radians a second"),
              (180 / np.pi, "degrees a second", "radians a second")),
}  # fmt: skip
TURNED = 4 * np.pi  # an angle that would be larger than this was not exchanged: it only meets the answer modulo a turn
MIXED = "The figures are those of the answer in {}, and you wrote {}: set the unit to what you calculated in."


@dataclass(frozen=True)
class Verdict:
    """Marks for one answer. `marks` is None when it was not marked, and `says` then gives the reason."""

    marks: float | None
    of: float
    says: str
    code: str
    read: str = ""

    @classmethod
    def not_marked(cls, of: float, reason: str) -> Verdict:
        """The verdict as long as there is no other."""
        return cls(None, of, f"Not marked: {reason}", "not-marked")


def judge(question: Question, givens: Givens, raw, *, inputs=None, earlier: dict | None = None) -> Verdict:
    """Mark one answer.

    Parameters
    ----------
    raw : number, str, list, dict or None
        The student's answer as a plain value (see `answers.plain`); for a function, what it returned at
        `inputs`.
    earlier : dict, optional
        The student's own earlier answers (SI), for a part that follows from them.

    Returns
    -------
    Verdict
        It tells what is wrong and what to do next, never what would have been right.
    """
    reading = question.kind.read(raw)
    if question.marked_by_hand:
        return replace(Verdict.not_marked(question.marks, BY_HAND), code="by-hand")
    if not reading.usable:
        return Verdict(0.0, question.marks, reading.says, reading.fault, reading.shown)
    right = question.right(givens, inputs, earlier)
    share, code, says = _compare(question, givens, reading, right, inputs)
    share, code, says = _unit_apart(reading, share, code, says)
    return Verdict(round(share * question.marks, 2), question.marks, says, code, reading.shown)


def _unit_apart(reading: Reading, share: float, code: str, says: str) -> tuple[float, str, str]:
    """What a missing unit does to a value that was judged without it."""
    if reading.fault != "no-unit":
        return share, code, says
    return (HALF, "no-unit", NO_UNIT) if code == "right" else (HALF * share, code, f"{says} {reading.says}")


def _compare(question, givens, reading, right, inputs) -> tuple[float, str, str]:
    """(share of the marks, code, sentence) for a reading that can be used."""
    kind, value = question.kind, reading.value
    if isinstance(kind, Designed):
        return kind.judged(question, givens, reading)
    if kind.same(value, right):
        return 1.0, "right", RIGHT
    for known in question.misconceptions:
        if kind.same(value, question.wrong(known, givens, inputs)):
            return known.share, known.code, known.says
    if isinstance(kind, Table | Positions | ChainList):
        return _some(question, reading, *kind.parts(value, right))
    if isinstance(kind, Function):
        return _calls(question, reading, kind.right_share(value, right))
    slip = _slip(kind, reading, float(right)) if isinstance(kind, Number) else None
    return slip or (0.0, "wrong", question.hint)


def _some(question, reading, good: int, of: int) -> tuple[float, str, str]:
    """Some rows of a table, or some words of a list of chains, are right."""
    what = "words" if isinstance(question.kind, ChainList) else "rows"
    says = f"{good} of {of} {what} are right. {question.hint}"
    return good / of, f"some-{what}", f"{says} {reading.says}".strip()


def _calls(question, reading, part: float) -> tuple[float, str, str]:
    if not part:
        return 0.0, "wrong", question.hint
    failed = f" {reading.says}" if reading.says else ""
    says = f"Right in {round(part * question.kind.many)} of {question.kind.many} calls.{failed} {question.hint}"
    return HALF * part, "some-calls", says


def _slip(kind: Number, reading: Reading, right: float) -> tuple[float, str, str] | None:
    """Slips that any number can have: rounded too far, sign, thousand-fold, degrees and radians exchanged."""
    given, near = reading.value, kind.tolerance.holds
    if reading.figures in (1, 2) and _rounds_to(kind, given, right, reading.figures):
        return HALF, "rounded", ROUNDED
    for factor, meant, written in EXCHANGED.get(kind.unit, ()):
        exchanged = given / factor
        by_chance = kind.tolerance.turn and abs(exchanged) > TURNED
        if near(exchanged, right) and not by_chance and reading.fault != "no-unit":
            return HALF, "mixed-units", MIXED.format(meant, written)
    if near(-given, right):
        return HALF / 2, "sign", SIGN
    for factor in (1000.0, 10.0, 100.0):
        if kind.unit != "deg" and (near(given / factor, right) or near(given * factor, right)):
            return HALF / 2, "factor", POWER.format(int(factor))
    return None


def _rounds_to(kind: Number, given: float, right: float, figures: int) -> bool:
    """Does the right value, rounded to so few figures in the unit asked for, give the student's?"""
    written, exact = kind.show(given).split()[0], float(kind.show(right).split()[0])
    return bool(np.isclose(float(f"{exact:.{figures}g}"), float(written), rtol=1e-9))


def carried(question: Question, givens: Givens, raw, earlier: dict, verdict: Verdict, *, inputs=None) -> Verdict:
    """The better of a verdict and the one from the student's own earlier answers, which earns a part of the marks.

    Nothing is carried where the earlier answers leave this answer as it was: then the fault is here.
    """
    follows = judge(question, givens, raw, inputs=inputs, earlier=earlier)
    changed = question.kind.apart(question.right(givens, inputs), question.right(givens, inputs, earlier))
    marks = round(CARRIED * question.marks, 2)
    if follows.code != "right" or not changed or verdict.marks >= marks:
        return verdict
    return replace(verdict, marks=marks, says=FOLLOWS.format(f"{marks:g}"), code="carried")


def for_another_id(verdict: Verdict, typed: str, handed_in: str) -> Verdict:
    """The verdict on an answer that is right for the id typed in the notebook, not for the true one."""
    says = (
        f"This is right for the numbers of the id “{typed[:40]}”, which stands in your notebook; it was "
        f"handed in as "
        f"“{handed_in[:40]}”, and marks follow the id it was handed in under. Tell your tutor if that was "
        f"a slip."
    )
    return replace(verdict, marks=0.0, says=says, code="other-id")
