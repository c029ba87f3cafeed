"""The net shaker, a crank-rocker with lengths of the student's own, and what can be asked about it."""

from __future__ import annotations

import cmath
from math import acos, degrees, pi

import numpy as np

from ...builders import four_bar
from ...motion import move
from ..answers import Number
from ..givens import Given, Setting, kept
from ..question import Misconception, Question, Worked
from ..tolerance import calculated, drawn

STORY = """In the net loft of Marrow Quay a crank shakes a rack of wet nets to and fro. The crank OA turns
all the way round about the
fixed pin O; the coupler AB joins it to the rocker QB, which carries the rack and swings about the fixed pin
Q. O is the
origin, Q lies on the x axis at the distance OQ to the right, and B is on the left as you look from A to Q
(the open circuit).
Angles are measured anticlockwise from the direction of +x: the crank's at O towards A, the rocker's at Q
towards B.

*Keep hands, sleeves and hair away from a real machine of this kind; it can start and crush without warning.
Follow the
local rules for guards and isolation.*"""


@kept
def bar(g, circuit="open"):
    """The linkage of these numbers, or the family of them."""
    return four_bar(g.ground, g.crank, g.coupler, g.rocker, circuit=circuit)


def placed(g, angle, circuit="open"):
    """(A, B, Q) and the rocker's direction at a crank angle, in radians; everything broadcasts."""
    motion = move(bar(g, circuit), angle)
    pin, joint, pivot = motion.point("A"), motion.point("B"), motion.point("Q")
    return pin, joint, pivot, np.angle(joint - pivot)


def folded(angle):
    """An angle between two lines, 0 to 90 degrees (radians)."""
    between = np.abs(np.angle(np.exp(1j * angle)))
    return np.minimum(between, pi - between)


def angle_at_joint(g, angle):
    """The angle at B of triangle ABQ, 0 to 180 degrees (radians), at a crank angle."""
    pin, joint, pivot, _ = placed(g, angle)
    return np.abs(np.angle((pin - joint) / (pivot - joint)))


def extremes_at_joint(g):
    """The least and the greatest angle at B: the crank along the fixed link, towards Q and away from it."""
    return angle_at_joint(g, 0 * g.crank), angle_at_joint(g, 0 * g.crank + pi)


def worst_fold(g):
    """The smallest transmission angle of the whole cycle."""
    return np.minimum(*(folded(angle) for angle in extremes_at_joint(g)))


def fits(g):
    """Closes and is a crank-rocker with something to spare, and never transmits at less than 30 degrees."""
    lengths = np.stack([g.ground_mm, g.crank_mm, g.coupler_mm, g.rocker_mm])
    spare = lengths.sum(axis=0) - 2 * (lengths.min(axis=0) + lengths.max(axis=0))
    good = (g.crank_mm == lengths.min(axis=0)) & (spare >= 10)
    good[good] = worst_fold(g.at(good)) >= pi / 6
    return good


MODEL_BAR = "net = lk.four_bar(shaker.ground, shaker.crank, shaker.coupler, shaker.rocker)\n"

SETTING = Setting(
    id="net-shaker",
    version=1,
    title="The net shaker",
    story=STORY,
    givens=(
        Given("ground_mm", "fixed link OQ", tuple(range(180, 325, 5))),
        Given("crank_mm", "crank OA", tuple(range(50, 125, 5))),
        Given("coupler_mm", "coupler AB", tuple(range(160, 325, 5))),
        Given("rocker_mm", "rocker QB", tuple(range(120, 245, 5))),
        Given("crank_angle_deg", "crank angle", tuple(a for a in range(20, 345, 5) if a % 90)),
    ),
    fits=fits,
    machine=bar,
)


def rocker_angle(g):
    """The rocker's direction at the given crank angle."""
    return placed(g, g.crank_angle)[3]


def by_triangles(g, theta):
    """Rocker direction, angle at B and the steps, by two triangles and the cosine rule (lengths in mm)."""
    pin = g.crank_mm * cmath.exp(1j * theta)
    to_pivot = g.ground_mm - pin
    d, heading = abs(to_pivot), cmath.phase(to_pivot)
    at_pin = acos((d * d + g.coupler_mm**2 - g.rocker_mm**2) / (2 * d * g.coupler_mm))
    at_joint = acos((g.coupler_mm**2 + g.rocker_mm**2 - d * d) / (2 * g.coupler_mm * g.rocker_mm))
    joint = pin + g.coupler_mm * cmath.exp(1j * (heading + at_pin))
    steps = (
        f"A lies at OA = {g.crank_mm} mm and {degrees(theta):.4g} degrees: ({pin.real:.2f}, {pin.imag:.2f}) mm.",
        f"From A to Q it is {d:.2f} mm in the direction {degrees(heading):.2f} degrees.",
        f"Triangle ABQ has the sides {g.coupler_mm}, {g.rocker_mm} and {d:.2f} mm. By the cosine rule its "
        f"angle at A is "
        f"{degrees(at_pin):.2f} degrees and its angle at B is {degrees(at_joint):.2f} degrees.",
    )
    return cmath.phase(joint - g.ground_mm), at_joint, joint, steps


def rocker_by_hand(g):
    """Two triangles: the diagonal AQ, then B on the left of it."""
    direction, _, joint, steps = by_triangles(g, g.crank_angle)
    more = (
        f"B is on the left of AQ, so the direction of AB is the sum of the two angles at A: B lies at ("
        f"{joint.real:.2f}, {joint.imag:.2f}) mm.",
        f"The direction from Q to B is {degrees(direction):.2f} degrees.",
    )
    return Worked((*steps, *more), direction)


ROCKER_ANGLE = Question(
    id="rocker_angle",
    concept="02-position",
    version=1,
    setting="net-shaker",
    title="Where is the rocker?",
    marks=3,
    ask=("Draw the position diagram of the net shaker for your crank angle and measure the angle of the rocker QB."),
    kind=Number("deg", drawn("deg", 2, turn=True)),
    answer=rocker_angle,
    by_hand=rocker_by_hand,
    model=MODEL_BAR + 'rocker_angle = (lk.move(net, shaker.crank_angle).angle("rocker"), "rad")',
    misconceptions=(
        Misconception(
            "wrong-circuit",
            lambda g: placed(g, g.crank_angle, "crossed")[3],
            "This is the rocker on the crossed circuit: the two arcs meet twice, and B belongs on the "
            "left as you look from A to Q. Take the other intersection.",
            1 / 3,
        ),
        Misconception(
            "other-end",
            lambda g: rocker_angle(g) + pi,
            "This is the direction from B to Q. The rocker's angle is measured at the fixed pin Q, looking towards B.",
            1 / 3,
        ),
        Misconception(
            "clockwise",
            lambda g: placed(g, -g.crank_angle)[3],
            "The crank was set off clockwise. Angles count anticlockwise from +x: draw OA again and go on from there.",
        ),
    ),
    hint=(
        "Check in turn: Q on the x axis, the crank angle anticlockwise, an arc of AB about A and one of "
        "QB about Q, and the left intersection as you look from A to Q."
    ),
)


def transmission_here(g, earlier=None):
    """The angle between coupler and rocker; from the student's own rocker angle where there is one."""
    pin, joint, pivot, _ = placed(g, g.crank_angle)
    if earlier and "rocker_angle" in earlier:
        joint = pivot + g.rocker * np.exp(1j * earlier["rocker_angle"])
    return folded(np.angle((joint - pin) / (joint - pivot)))


def coupler_about_right(g, earlier):
    """Does the student's rocker leave the coupler within a quarter of its length? Else it is another machine."""
    pin, _, pivot, _ = placed(g, g.crank_angle)
    length = abs(pivot + g.rocker * np.exp(1j * earlier["rocker_angle"]) - pin)
    return bool(abs(length - g.coupler) <= 0.25 * g.coupler)


def transmission_by_hand(g):
    """The angle at B of triangle ABQ, folded."""
    _, at_joint, _, steps = by_triangles(g, g.crank_angle)
    value = min(at_joint, pi - at_joint)
    fold = f"It is obtuse; folded it is 180 − {degrees(at_joint):.2f} = {degrees(value):.2f} degrees."
    return Worked((*steps, fold if at_joint > pi / 2 else "It is acute: it is the transmission angle."), value)


TRANSMISSION_HERE = Question(
    id="transmission_here",
    concept="02-transmission",
    version=1,
    setting="net-shaker",
    title="How well does it push there?",
    marks=3,
    ask=(
        "Calculate the transmission angle (between the lines of coupler and rocker, 0 to 90 degrees) at "
        "your crank angle."
    ),
    kind=Number("deg", calculated("deg")),
    answer=transmission_here,
    by_hand=transmission_by_hand,
    model=MODEL_BAR
    + """motion = lk.move(net, shaker.crank_angle)
between = abs(motion.angle("coupler") - motion.angle("rocker")) % np.pi
transmission_here = (min(between, np.pi - between), "rad")""",
    needs=("rocker_angle",),
    admits=coupler_about_right,
    misconceptions=(
        Misconception(
            "not-folded",
            lambda g: angle_at_joint(g, g.crank_angle),
            "This is the obtuse angle of the same two lines. The transmission angle is the one that does "
            "not exceed 90 degrees: fold it.",
            1 / 2,
        ),
        Misconception(
            "crank-and-coupler",
            lambda g: folded(
                np.angle((placed(g, g.crank_angle)[1] - placed(g, g.crank_angle)[0]) * np.exp(-1j * g.crank_angle))
            ),
            "This is the angle between crank and coupler. The coupler pushes the rocker: take the angle "
            "between these two, at B.",
        ),
        Misconception(
            "rocker-and-ground",
            lambda g: folded(rocker_angle(g)),
            "This is the angle between the rocker and the fixed link. The transmission angle is at B, "
            "between coupler and rocker.",
        ),
    ),
    hint="Find the distance AQ first; the sides AB, QB and AQ then give the angle at B by the cosine rule.",
)


QUESTIONS = (ROCKER_ANGLE, TRANSMISSION_HERE)
