"""A student's answer drawn: the point that it puts somewhere, laid over the right construction."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from ..coursework.answers import Number
from ..coursework.question import Assignment, Question
from ..coursework.verdict import Verdict
from .machine import Machine


def _polar(pin: str, arm: str, point: str) -> Callable:
    """An answer that is a direction: the point lies at the arm's length from the pin in that direction."""
    return lambda g, value, at: {point: at[pin] + getattr(g, arm) * np.exp(1j * value)}


def _along(point: str) -> Callable:
    """An answer that is an x coordinate: the point keeps its height."""
    return lambda g, value, at: {point: complex(value, at[point].imag)}


def _below(pin: str, point: str) -> Callable:
    """An answer that says how far below a pin a point lies."""
    return lambda g, value, at: {point: complex(at[point].real, at[pin].imag - value)}


PLACES = {  # question: (givens, answer, points of the right construction) -> where the answer puts a point
    "rocker_angle": _polar("Q", "rocker", "B"),
    "coupler_angle": _polar("A", "coupler", "B"),
    "slider_at": _along("B"),
    "rod_angle": _polar("A", "rod", "B"),
    "beam_turned": _polar("Q", "far_arm", "H"),
    "plunger_below": _below("Q", "K"),
}


def drawn(question: Question, assignment: Assignment, student: str, verdict: Verdict) -> tuple[str, str] | None:
    """(the answer laid over the right construction, the right construction) as SVG; None where it can't be drawn.

    Parameters
    ----------
    verdict : Verdict
        What the marker read of the answer stands in it.
    """
    value = _value(question, verdict)
    if value is None:
        return None
    from ..draw import construction

    givens = assignment.givens(question.setting, student)
    right = construction(Machine.of(assignment.setting(question.setting), givens, ()).motion, 0)
    where = _near(PLACES[question.id](givens, value, right.points), right.points)
    return (right.over(where).svg(), right.picture().svg()) if where else None


def _value(question: Question, verdict: Verdict) -> float | None:
    """The answer (SI) as it was read, where it is one that can be drawn."""
    if question.id not in PLACES or not isinstance(question.kind, Number) or not verdict.read:
        return None
    reading = question.kind.read(verdict.read)
    return float(reading.value) if reading.usable else None


def _near(where: dict[str, complex], points: dict[str, complex]) -> dict[str, complex]:
    """Nothing where the answer lies far off the sheet: then its size is wrong, and a picture says nothing."""
    known = np.array(list(points.values()))
    size = np.abs(known[:, None] - known[None, :]).max()
    return where if all(abs(z - known.mean()) < 1.5 * size for z in where.values()) else {}
