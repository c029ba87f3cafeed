"""A wrong answer drawn beside the right one: the point that it puts somewhere, the position in which it puts the machine."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from ..coursework.answers import Number
from ..coursework.question import Assignment, Question
from ..coursework.verdict import Verdict
from . import machine as machines
from .machine import Machine


def _turned(pin: str, point: str) -> Callable:
    """An answer that is a direction: the point lies in that direction from the pin, as far away as it is."""
    return lambda value, at: {point: at[pin] + abs(at[point] - at[pin]) * np.exp(1j * value)}


def _along(point: str) -> Callable:
    """An answer that is an x coordinate: the point keeps its height."""
    return lambda value, at: {point: complex(value, at[point].imag)}


def _up(point: str) -> Callable:
    """An answer that is a y coordinate."""
    return lambda value, at: {point: complex(at[point].real, value)}


def _below(pin: str, point: str) -> Callable:
    """An answer that says how far below a pin a point lies."""
    return lambda value, at: {point: complex(at[point].real, at[pin].imag - value)}


def _away(pin: str, point: str) -> Callable:
    """An answer that is the distance of a point from a pin."""
    return lambda value, at: {point: at[pin] + value * (at[point] - at[pin]) / abs(at[point] - at[pin])}


PLACES = {  # question: (answer, points of the right construction) -> where the answer puts a point
    "rocker_angle": _turned("Q", "B"),
    "coupler_angle": _turned("A", "B"),
    "slider_at": _along("B"),
    "rod_angle": _turned("A", "B"),
    "beam_turned": _turned("Q", "H"),
    "plunger_below": _below("Q", "K"),
    "lever_direction": _turned("Q", "A"),
    "cylinder_direction": _turned("Q", "A"),
    "cylinder_length": _away("Q", "A"),
    "eye_across": _along("P"),
    "eye_height": _up("P"),
}
POSES = ("far_limit", "inner_dead_centre", "outer_dead_centre")  # the answer is where the crank stands
LAID = "Yours, laid over the right one: the cross is where your answer puts the point"
POSED = "Yours: the machine with its crank where your answer puts it"
RIGHT = "Right for your numbers"
ALONE = f"{RIGHT}; your answer has no picture of its own"
ROOM_PX = 24.0  # about a cross and its name
OF_CONCEPT = (  # what a question is about: the maker of the picture that shows it, and which of its pictures
    (("02-limits", "03-stroke", "03-return"), machines.between, 0),
    (("08-velocity",), machines.polygons, 0),
    (("09",), machines.polygons, -1),  # the accelerations come last
    (("08-centres",), machines.centres, 0),
    (("01", "05"), machines.apart, 0),
    (("10-static",), machines.free_bodies, 0),  # the slider, slowly
    (("10-inertia",), machines.free_bodies, 2),  # the slider, at speed
)


@dataclass(frozen=True)
class Shown:
    """A picture of the page and what stands below it."""

    svg: str
    words: str


def drawn(question: Question, assignment: Assignment, student: str, verdict: Verdict) -> list[Shown]:
    """The answer drawn and the right picture; the right one alone where the answer can't be drawn; empty without either.

    Parameters
    ----------
    verdict : Verdict
        What the marker read of the answer stands in it.
    """
    setting = assignment.setting(question.setting)
    found = Machine.of(setting, assignment.givens(question.setting, student), {question.concept})
    if found is None:
        return []
    value = _value(question, verdict)
    pair = [] if value is None else _laid_over(question, found, value) or _posed(question, found, value)
    return pair or _of_concept(question, found)


def _value(question: Question, verdict: Verdict) -> float | None:
    """The answer (SI) as it was read, where it is a number."""
    if not isinstance(question.kind, Number) or not verdict.read:
        return None
    reading = question.kind.read(verdict.read)
    return float(reading.value) if reading.usable else None


def _laid_over(question, found: Machine, value: float) -> list[Shown]:
    """A cross on the right construction where the answer puts a point."""
    puts = question.puts or PLACES.get(question.id)
    if puts is None or found.motion is None:
        return []
    from ..draw import construction

    drawn_anyhow = construction(found.motion, 0).points
    right = construction(found.motion, 0, points=[p for p in found.linkage.points if p not in drawn_anyhow])
    try:
        where = _near(puts(value, right.points), right.points)
    except KeyError:  # the point is not one that is constructed
        return []
    return [Shown(_whole(right.over(where), where).svg(), LAID), Shown(right.picture().svg(), RIGHT)] if where else []


def _whole(scene, where: dict[str, complex]):
    """The scene with room for what lies beyond its edge."""
    from ..draw.scene import Text, bounds_of

    crosses = bounds_of(tuple(Text(z, "") for z in where.values())).grown(ROOM_PX * scene.px)
    return replace(scene, bounds=scene.bounds | crosses)


def _near(where: dict[str, complex], points: dict[str, complex]) -> dict[str, complex]:
    """Nothing where the answer lies far off the sheet: then its size is wrong, and a picture says nothing."""
    known = np.array(list(points.values()))
    size = np.abs(known[:, None] - known[None, :]).max()
    return where if all(abs(z - known.mean()) < 1.5 * size for z in where.values()) else {}


def _posed(question, found: Machine, value: float) -> list[Shown]:
    """The machine with the crank at the answer, and at the right angle."""
    if question.id not in POSES:
        return []
    from ..draw import line_diagram
    from ..motion import move

    right = float(question.right(found.givens))
    return [
        Shown(line_diagram(move(found.linkage, [angle]), 0).svg(), words)
        for angle, words in ((value, POSED), (right, RIGHT))
    ]


def _of_concept(question, found: Machine) -> list[Shown]:
    """The right picture of what the question is about."""
    for starts, make, which in OF_CONCEPT:
        if question.concept.startswith(starts):
            made = list(make(found))
            return [Shown(made[which].svg, ALONE)] if made else []
    return []
