"""The ice chopper, an offset slider-crank with lengths of the student's own."""

from __future__ import annotations

from math import cos, pi, sin, sqrt

import numpy as np

from ...builders import slider_crank
from ...motion import move
from ..answers import Number
from ..givens import Given, Setting, kept
from ..question import Misconception, Question, Worked
from ..tolerance import calculated

STORY = """On the fish quay an ice chopper drives a blade to and fro along a straight guide. The crank OA
turns about the fixed pin O, the
origin; the connecting rod AB joins it to the slider at B, which runs on a line parallel to the x axis at y
= offset, on the
side of +x. The crank angle is measured anticlockwise from +x.

*The blade of a real chopper is guarded and locked off before anyone reaches in; follow the local rules.*"""


@kept
def chopper(g, offset=None):
    """The linkage of these numbers, or the family of them."""
    return slider_crank(g.crank, g.rod, offset=g.offset if offset is None else offset)


def fits(g):
    """The rod passes every crank position with a transmission angle of 30 degrees at least."""
    return (g.crank + g.offset) / g.rod <= np.cos(pi / 6)


MODEL_BAR = "bars = lk.slider_crank(chopper.crank, chopper.rod, offset=chopper.offset)\n"

SETTING = Setting(
    id="ice-chopper",
    version=1,
    title="The ice chopper",
    story=STORY,
    givens=(
        Given("crank_mm", "crank OA", tuple(range(80, 145, 5))),
        Given("rod_mm", "connecting rod AB", tuple(range(200, 325, 5))),
        Given("offset_mm", "offset of the guide", tuple(range(50, 135, 5))),
        Given("crank_angle_deg", "crank angle", tuple(a for a in range(20, 345, 5) if a % 90)),
    ),
    fits=fits,
    machine=chopper,
)


def slider_at(g, angle=None, offset=None):
    """How far the slider is from O along x at the given crank angle."""
    return move(chopper(g, offset), g.crank_angle if angle is None else angle).point("B").real


def slider_by_hand(g):
    """A right-angled triangle below the rod."""
    up, along = g.crank_mm * sin(g.crank_angle), g.crank_mm * cos(g.crank_angle)
    rest = sqrt(g.rod_mm**2 - (g.offset_mm - up) ** 2)
    steps = (
        f"A lies at ({along:.2f}, {up:.2f}) mm.",
        f"B is on the guide, {g.offset_mm} − ({up:.2f}) = {g.offset_mm - up:.2f} mm above A; along the "
        f"guide the rod reaches √({g.rod_mm}² − {g.offset_mm - up:.2f}²) = {rest:.2f} mm.",
        f"The slider is at x = {along:.2f} + {rest:.2f} = {along + rest:.2f} mm.",
    )
    return Worked(steps, (along + rest) / 1000)


SLIDER_AT = Question(
    id="slider_at",
    concept="03-position",
    version=1,
    setting="ice-chopper",
    title="Where is the slider?",
    marks=3,
    ask="Calculate the x coordinate of the slider's pin B at your crank angle.",
    kind=Number("mm", calculated("mm")),
    answer=slider_at,
    by_hand=slider_by_hand,
    model=MODEL_BAR + 'slider_at = (lk.move(bars, chopper.crank_angle).point("B").real, "m")',
    misconceptions=(
        Misconception(
            "offset-left-out",
            lambda g: slider_at(g, offset=0 * g.offset),
            "The offset was left out. The guide does not pass through O: the rod rises from A to y = offset.",
            1 / 3,
        ),
        Misconception(
            "degrees-for-radians",
            lambda g: slider_at(g, angle=1.0 * g.crank_angle_deg),
            "The crank angle in degrees went into sin and cos, which take radians. Convert it first.",
            1 / 3,
        ),
        Misconception(
            "other-side",
            lambda g: 2 * g.crank * np.cos(g.crank_angle) - slider_at(g),
            "This is the slider on the other side of the crank pin. The root has two signs; here the "
            "slider is on the side of +x.",
            1 / 2,
        ),
        Misconception(
            "offset-reversed",
            lambda g: slider_at(g, offset=-g.offset),
            "The offset went to the wrong side. The guide lies at y = +offset: the rod rises by the "
            "offset less the height of A.",
            1 / 3,
        ),
    ),
    hint=(
        "Find A first. The rod is the long side of a right-angled triangle whose height is the offset "
        "less the height of A."
    ),
)


def stroke(g):
    """The distance between the slider's limit positions, where crank and rod lie in line."""
    far = np.arcsin(g.offset / (g.rod + g.crank))
    near = np.arcsin(g.offset / (g.rod - g.crank)) + pi
    return slider_at(g, angle=far) - slider_at(g, angle=near)


def stroke_by_hand(g):
    """The two positions with crank and rod in line."""
    far = sqrt((g.rod_mm + g.crank_mm) ** 2 - g.offset_mm**2)
    near = sqrt((g.rod_mm - g.crank_mm) ** 2 - g.offset_mm**2)
    steps = (
        f"Farthest out, crank and rod are stretched out in line: OB = {g.rod_mm + g.crank_mm} mm, and x = "
        f"√({g.rod_mm + g.crank_mm}² − {g.offset_mm}²) = {far:.2f} mm.",
        f"Nearest, they lie on each other: OB = {g.rod_mm - g.crank_mm} mm, and x = √("
        f"{g.rod_mm - g.crank_mm}² − {g.offset_mm}²) = {near:.2f} mm.",
        f"The stroke is {far:.2f} − {near:.2f} = {far - near:.2f} mm.",
    )
    return Worked(steps, (far - near) / 1000)


STROKE = Question(
    id="stroke",
    concept="03-stroke",
    version=1,
    setting="ice-chopper",
    title="The stroke",
    marks=3,
    ask="Calculate the stroke of the slider: the distance between its two limit positions.",
    kind=Number("mm", calculated("mm")),
    answer=stroke,
    by_hand=stroke_by_hand,
    model=MODEL_BAR + 'stroke = (lk.facts(bars).stroke, "m")',
    misconceptions=(
        Misconception(
            "twice-the-crank",
            lambda g: 2 * g.crank,
            "Twice the crank is the stroke only where the guide passes through O. With an offset, take "
            "the two positions with crank and rod in line.",
            1 / 3,
        ),
        Misconception(
            "one-end-without-offset",
            lambda g: np.sqrt((g.rod + g.crank) ** 2 - g.offset**2) - (g.rod - g.crank),
            "The offset was forgotten at the near end. Both limit positions make a right-angled triangle "
            "with the offset as its height.",
            1 / 2,
        ),
        Misconception(
            "half-stroke",
            lambda g: stroke(g) / 2,
            "This is half of it. The stroke is counted from one limit position to the other.",
            1 / 2,
        ),
    ),
    hint=(
        "In a limit position crank and rod lie in one line: OB is rod + crank, or rod − crank. Each makes "
        "a right-angled triangle with the offset."
    ),
)

QUESTIONS = (SLIDER_AT, STROKE)
