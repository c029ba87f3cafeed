"""The rope guide with lengths of the student's own: its eye, its other circuit, its proportions."""

from __future__ import annotations

import cmath
from math import acos, degrees

import numpy as np

from ...builders import four_bar
from ...motion import move
from ..answers import Number
from ..givens import Given, Setting, kept
from ..question import Misconception, Question, Worked
from ..tolerance import calculated

STORY = """In the rope walk of Marrow Quay a four-bar guides the rope. The crank OA turns about the fixed pin O, the
origin; the arm AB joins it to the rocker QB, which swings about the fixed pin Q on the x axis, at the distance OQ to
the right. The arm runs on beyond B in a straight line to the eye P. B is on the left as you look from A to Q (the open
circuit). The crank angle is measured anticlockwise from the direction of +x.

*A running rope takes a hand with it. A real guide is fenced; follow the local rules.*"""


@kept
def guide(g, circuit="open"):
    """The linkage of these numbers, or the family of them, with the eye P on the coupler."""
    return four_bar(g.ground, g.crank, g.arm, g.rocker, circuit=circuit).with_point("coupler", "P", g.eye)


def at(g, name, circuit="open", angle=None):
    """A point of the guide at the crank angle; everything broadcasts."""
    return move(guide(g, circuit), g.crank_angle if angle is None else angle).point(name)


def fits(g):
    """A crank-rocker with room to spare, its eye beyond B."""
    lengths = np.stack([g.ground_mm, g.crank_mm, g.arm_mm, g.rocker_mm])
    spare = lengths.sum(axis=0) - 2 * (lengths.min(axis=0) + lengths.max(axis=0))
    return (g.crank_mm == lengths.min(axis=0)) & (spare >= 20) & (g.eye_mm >= g.arm_mm + 40)


SETTING = Setting(
    id="rope-guide",
    version=1,
    title="The rope guide",
    story=STORY,
    givens=(
        Given("ground_mm", "fixed link OQ", tuple(range(140, 205, 5))),
        Given("crank_mm", "crank OA", tuple(range(60, 105, 5))),
        Given("arm_mm", "arm AB", tuple(range(170, 255, 5))),
        Given("rocker_mm", "rocker QB", tuple(range(170, 255, 5))),
        Given("eye_mm", "arm AP, from A to the eye", tuple(range(240, 505, 10))),
        Given("crank_angle_deg", "crank angle", tuple(a for a in range(20, 345, 5) if a % 90)),
    ),
    fits=fits,
    machine=guide,
)


def _by_triangle(g, side):
    """A, the arm's direction (mm, radians) and the steps, on the circuit of that side."""
    pin = g.crank_mm * cmath.exp(1j * g.crank_angle)
    across = g.ground_mm - pin
    d, heading = abs(across), cmath.phase(across)
    at_pin = acos((d * d + g.arm_mm**2 - g.rocker_mm**2) / (2 * d * g.arm_mm))
    turned = heading + side * at_pin
    steps = (
        f"A lies at ({pin.real:.2f}, {pin.imag:.2f}) mm. From A to Q it is {d:.2f} mm in the direction "
        f"{degrees(heading):.2f} degrees.",
        f"Triangle ABQ: the angle at A is {degrees(at_pin):.2f} degrees. On this circuit B is on the "
        f"{'left' if side > 0 else 'right'} of AQ, so the arm points to {degrees(turned):.2f} degrees.",
    )
    return pin, turned, steps


def eye_by_hand(g):
    """The triangle ABQ, then along the arm."""
    pin, turned, steps = _by_triangle(g, +1)
    eye = pin + g.eye_mm * cmath.exp(1j * turned)
    last = f"P is {g.eye_mm} mm from A along it, at ({eye.real:.2f}, {eye.imag:.2f}) mm."
    return Worked((*steps, last), eye.imag / 1000)


EYE_HEIGHT = Question(
    id="eye_height",
    concept="07-point",
    version=1,
    setting="rope-guide",
    title="Where is the eye?",
    marks=3,
    ask="Calculate the height of the eye P above the line of the fixed pins (its y coordinate) at your crank angle.",
    kind=Number("mm", calculated("mm")),
    answer=lambda g: at(g, "P").imag,
    by_hand=eye_by_hand,
    model=(
        "motion = lk.move(lk.four_bar(guide.ground, guide.crank, guide.arm, guide.rocker), guide.crank_angle)\n"
        "eye = motion.point('A') + guide.eye * np.exp(1j * motion.angle('coupler'))\n"
        "eye_height = (eye.imag, 'm')"
    ),
    misconceptions=(
        Misconception(
            "joint-instead",
            lambda g: at(g, "B").imag,
            "This is the height of B. The eye is further out on the same arm, at AP from A.",
            1 / 3,
        ),
        Misconception(
            "from-the-joint",
            lambda g: (at(g, "B") + g.eye * (at(g, "B") - at(g, "A")) / g.arm).imag,
            "The length AP was measured from B. It is given from A.",
            1 / 3,
        ),
        Misconception(
            "other-circuit",
            lambda g: at(g, "P", "crossed").imag,
            "This is the other circuit, with B on the right of AQ. The picture shows the one that is built.",
            1 / 3,
        ),
    ),
    hint="Find A, then the arm's direction from triangle ABQ; P is AP along that direction from A.",
)


def other_by_hand(g):
    """The same triangle on its other side."""
    pin, turned, steps = _by_triangle(g, -1)
    joint = pin + g.arm_mm * cmath.exp(1j * turned)
    direction = cmath.phase(joint - g.ground_mm)
    more = (
        f"B lies at ({joint.real:.2f}, {joint.imag:.2f}) mm.",
        f"From Q to B is the direction {degrees(direction):.2f} degrees.",
    )
    return Worked((*steps, *more), direction)


def rocker_on(g, circuit):
    """The rocker's direction on one circuit."""
    return np.angle(at(g, "B", circuit) - g.ground)


OTHER_CIRCUIT = Question(
    id="other_circuit",
    concept="06-circuit",
    version=1,
    setting="rope-guide",
    title="The root that was not taken",
    marks=3,
    ask=(
        "The same four lengths close in a second way at your crank angle: on the other circuit. Calculate the "
        "direction of the rocker, from Q to B, there."
    ),
    kind=Number("deg", calculated("deg", turn=True)),
    answer=lambda g: rocker_on(g, "crossed"),
    by_hand=other_by_hand,
    model=(
        "other = lk.four_bar(guide.ground, guide.crank, guide.arm, guide.rocker, circuit='crossed')\n"
        "other_circuit = (lk.move(other, guide.crank_angle).angle('rocker'), 'rad')"
    ),
    misconceptions=(
        Misconception(
            "as-drawn",
            lambda g: rocker_on(g, "open"),
            "This is the circuit in the picture. Take the other sign of the root: B on the right of the ray from A "
            "to Q.",
            1 / 3,
        ),
        Misconception(
            "mirrored-in-the-ground",
            lambda g: -rocker_on(g, "open"),
            "The picture was mirrored in the line of the fixed pins, but the crank stays where it is. Mirror B in "
            "the line AQ instead.",
            1 / 3,
        ),
        Misconception(
            "coupler-instead",
            lambda g: np.angle(at(g, "B", "crossed") - at(g, "A", "crossed")),
            "This is the arm's direction, from A to B. The rocker's is asked for, from Q to B.",
            1 / 3,
        ),
    ),
    hint="In triangle ABQ the lengths stay the same; B goes to the other side of AQ. Then look from Q to B.",
)

STRAIGHT = Setting(
    id="straight-guide",
    version=1,
    title="A guide for a new rope walk",
    story="""A second rope walk wants a guide like the first: fixed link 2, crank 1, arm AB 2.5, rocker 2.5,
and the eye P on the arm at 5 from A. Its eye then runs almost straight while the crank turns from 90 to 270 degrees.

*A running rope takes a hand with it. A real guide is fenced; follow the local rules.*""",
    givens=(Given("straight_mm", "straight run wanted", tuple(range(200, 820, 20))),),
    fits=lambda g: g.straight > 0,
    machine=lambda g: four_bar(g.straight / 2, g.straight / 4, 0.625 * g.straight, 0.625 * g.straight).with_point(
        "coupler", "P", 1.25 * g.straight
    ),
)


def run(g, crank):
    """How far the eye goes between crank angles 90 and 270 degrees, for a crank of this length."""
    bar = four_bar(2 * crank, crank, 2.5 * crank, 2.5 * crank).with_point("coupler", "P", 5 * crank)
    ends = [move(bar, angle * np.pi / 180).point("P").real for angle in (90.0, 270.0)]
    return ends[0] - ends[1]


def arm_by_hand(g):
    """The two end positions, each with a right-angled triangle."""
    steps = (
        "With the crank r at 90 degrees A lies at (0, r), B at (2r, 2.5r), so P at (4r, 4r).",
        "With the crank at 270 degrees A lies at (0, −r), B at (0, 1.5r), so P at (0, 4r).",
        f"The run is 4r = {g.straight_mm} mm: the crank is {g.straight_mm / 4:.4g} mm, and AP = 5r = "
        f"{1.25 * g.straight_mm:.4g} mm.",
    )
    return Worked(steps, 1.25 * g.straight)


ARM_FOR_RUN = Question(
    id="arm_for_run",
    concept="07-line",
    version=1,
    setting="straight-guide",
    title="Choosing the arm",
    marks=2,
    ask="How long must the whole arm AP be for the straight run wanted?",
    kind=Number("mm", calculated("mm")),
    answer=lambda g: 5 * g.straight / run(g, 1.0),
    by_hand=arm_by_hand,
    model="arm_for_run = (1.25 * guide.straight, 'm')",
    misconceptions=(
        Misconception(
            "two-cranks",
            lambda g: 2.5 * g.straight,
            "A run of two cranks was assumed, as for a slider-crank. Draw the crank at 90 and at 270 degrees and "
            "see how far P goes.",
            1 / 3,
        ),
        Misconception(
            "crank-given",
            lambda g: g.straight / 4,
            "This is the crank. The arm AP is five cranks long.",
            1 / 2,
        ),
        Misconception(
            "to-the-joint",
            lambda g: 0.625 * g.straight,
            "This is AB, half of the arm. The eye is at the end, at five cranks from A.",
            1 / 2,
        ),
    ),
    hint="Draw both ends of the straight run, crank at 90 and at 270 degrees, in units of the crank, and measure it.",
)

SETTINGS = (SETTING, STRAIGHT)
QUESTIONS = (EYE_HEIGHT, OTHER_CIRCUIT, ARM_FOR_RUN)
