"""The brine lift with lengths of the student's own: two chains in series, the second fed by the first."""

from __future__ import annotations

import cmath
from math import acos, cos, degrees, pi, sin, sqrt

import numpy as np

from ...dyads import rrp, rrr
from ...linkage import Input, Linkage, Slide
from ..answers import Number
from ..givens import Given, Setting
from ..question import Misconception, Question, Worked
from ..tolerance import calculated

ACROSS, UP = 2.05, 3.1  # metres from O to Q

STORY = """At the salt pans of Marrow Quay a brine lift stands. The crank OA turns about the fixed pin O. The
connecting rod AB swings the straight beam BQH about the fixed pin Q, which lies 2050 mm to the right of O and 3100 mm
above it; B is on the beam's left arm. From H, on its right arm, the hanger HK carries the plunger's pin K, which slides
below the beam on a vertical guide to the right of Q. The crank angle is measured anticlockwise from +x.

*A real lift can crush. It is stopped, held and locked off as the local rules say before anyone reaches in.*"""


def joints(g, side=1):
    """(A, B, H) at the given crank angle, complex metres from O; everything broadcasts."""
    pin, pivot = g.crank * np.exp(1j * g.crank_angle), ACROSS + 1j * UP
    near = rrr(pin, pivot, g.rod**2, g.near_arm**2, side)
    return pin, near, pivot - (near - pivot) / g.near_arm * g.far_arm


def beam_angle(g):
    """The direction of the beam from Q to H."""
    return np.angle(joints(g)[2] - (ACROSS + 1j * UP))


def below(g, far=None):
    """How far K is below Q, with H where it is or at another place."""
    far = joints(g)[2] if far is None else far
    guide = ACROSS + g.guide + 1j * UP
    return -rrp(far, guide, 1j + 0 * guide, g.hanger**2, -1)


def closes(g):
    """The crank goes right round, and the hanger never leans by more than 30 degrees."""
    span = np.hypot(ACROSS, UP)
    reaches = (g.rod + g.near_arm > 1.05 * (span + g.crank)) & (abs(g.rod - g.near_arm) < 0.9 * (span - g.crank))
    with np.errstate(invalid="ignore"):
        upright = abs(joints(g)[2].real - ACROSS - g.guide) < 0.5 * g.hanger
    return reaches & upright


def lift(g):
    """The linkage, sketched at the given crank angle."""
    pin, near, far = joints(g)
    pivot = ACROSS + 1j * UP
    points = {"O": 0j, "A": pin, "B": near, "Q": pivot, "H": far, "K": pivot + g.guide - 1j * below(g)}
    links = {"frame": ("O", "Q"), "crank": ("O", "A"), "connecting rod": ("A", "B"), "beam": ("Q", "B", "H"),
             "hanger": ("H", "K"), "plunger": ("K",)}  # fmt: skip
    barrel = Slide("barrel", "plunger", "frame", points["K"], 1j)
    turn = Input("crank", "angle", "O", ("frame", "crank"))
    return Linkage(points, links, "frame", (barrel,), (turn,), output="plunger", name="brine lift")


SETTING = Setting(
    id="brine-lift",
    version=1,
    title="The brine lift",
    story=STORY,
    givens=(
        Given("crank_mm", "crank OA", tuple(range(500, 725, 20))),
        Given("rod_mm", "connecting rod AB", tuple(range(3000, 3325, 25))),
        Given("near_arm_mm", "beam arm QB", tuple(range(1800, 2125, 25))),
        Given("far_arm_mm", "beam arm QH", tuple(range(2100, 2525, 25))),
        Given("hanger_mm", "hanger HK", tuple(range(900, 1425, 50))),
        Given("guide_mm", "guide to the right of Q by", tuple(range(1800, 2325, 25))),
        Given("crank_angle_deg", "crank angle", tuple(a for a in range(20, 345, 5) if a % 90)),
    ),
    fits=closes,
    machine=lift,
)


def _first_chain(g):
    """B and the beam's direction in mm and degrees, by two triangles, with the steps."""
    pin = g.crank_mm * cmath.exp(1j * g.crank_angle)
    across = 2050 + 3100j - pin
    d, heading = abs(across), cmath.phase(across)
    at_pin = acos((d * d + g.rod_mm**2 - g.near_arm_mm**2) / (2 * d * g.rod_mm))
    near = pin + g.rod_mm * cmath.exp(1j * (heading + at_pin))
    turned = cmath.phase(2050 + 3100j - near)
    return turned, (
        f"First chain: A lies at ({pin.real:.1f}, {pin.imag:.1f}) mm from O, and Q at ({2050}, {3100}) mm: "
        f"AQ is {d:.1f} mm long and points to {degrees(heading):.2f} degrees.",
        f"Triangle ABQ: by the cosine rule its angle at A is {degrees(at_pin):.2f} degrees. B is on the left of AQ, "
        f"at ({near.real:.1f}, {near.imag:.1f}) mm.",
        f"The beam is straight, so Q to H has the direction of B to Q: {degrees(turned):.2f} degrees.",
    )  # fmt: skip


def beam_by_hand(g):
    """The first chain."""
    turned, steps = _first_chain(g)
    return Worked(steps, turned)


BEAM_MODEL = """chain = lk.four_bar(abs(2.05 + 3.1j), lift.crank, lift.rod, lift.near_arm)
slope = np.angle(2.05 + 3.1j)
motion = lk.move(chain, lift.crank_angle - slope)
far = -lift.far_arm * np.exp(1j * (motion.angle("rocker") + slope))
"""


def _far(g, turned):
    """H, with the beam turned to an angle of the student's own."""
    return ACROSS + 1j * UP + g.far_arm * np.exp(1j * turned)


def _hangs(g, far):
    """Does the hanger still reach the guide, leaning no more than a real one would?"""
    return bool(abs(far.real - ACROSS - g.guide) < 0.7 * g.hanger)


BEAM_TURNED = Question(
    id="beam_turned",
    concept="05-series",
    version=1,
    setting="brine-lift",
    title="The first chain: how far is the beam turned?",
    marks=3,
    ask=(
        "Take the lift apart and solve the first chain: at what angle does the beam stand at your crank angle? Give "
        "the direction from Q to H, anticlockwise from +x positive."
    ),
    kind=Number("deg", calculated("deg", turn=True)),
    answer=beam_angle,
    by_hand=beam_by_hand,
    model=BEAM_MODEL + "beam_turned = (np.angle(far), 'rad')",
    misconceptions=(
        Misconception(
            "from-the-other-arm",
            lambda g: beam_angle(g) + pi,
            "This is the direction from Q to B, the arm on the crank's side. H is on the other arm: half a turn more.",
            1 / 2,
        ),
        Misconception(
            "sense-reversed",
            lambda g: -beam_angle(g),
            "The size is right and the sense is not: anticlockwise is positive, so H below the level of Q is a "
            "negative angle.",
            1 / 2,
        ),
        Misconception(
            "other-circuit",
            lambda g: np.angle(joints(g, -1)[2] - (ACROSS + 1j * UP)),
            "The two arcs about A and Q cross twice, and this is the other crossing: the beam stands on its head. "
            "Take the one that can be reached from the picture.",
            1 / 3,
        ),
    ),
    hint=(
        "Crank, connecting rod, beam and frame are the first chain. Find A, then B where the arcs about A and Q "
        "cross, then the direction of BQ."
    ),
)


def below_by_hand(g):
    """Both chains: the beam's angle, then a right-angled triangle under the hanger."""
    turned, steps = _first_chain(g)
    along, up = g.far_arm_mm * cos(turned), g.far_arm_mm * sin(turned)
    leg = sqrt(g.hanger_mm**2 - (along - g.guide_mm) ** 2)
    more = (
        f"Second chain: H lies {along:.1f} mm to the right of Q and {up:.1f} mm above it; the guide is {g.guide_mm} "
        "mm to the right.",
        f"The hanger spans {abs(along - g.guide_mm):.1f} mm across, so {leg:.1f} mm down (Pythagoras, {g.hanger_mm} "
        "mm).",
        f"K is {leg:.1f} − ({up:.1f}) = {leg - up:.1f} mm below Q.",
    )
    return Worked((*steps, *more), (leg - up) / 1000)


PLUNGER_BELOW = Question(
    id="plunger_below",
    concept="05-series",
    version=1,
    setting="brine-lift",
    title="Both chains: where is the plunger?",
    marks=4,
    ask="How far below the level of Q is the plunger's pin K at your crank angle?",
    kind=Number("mm", calculated("mm")),
    answer=lambda g, earlier=None: below(g, _far(g, earlier["beam_turned"]) if earlier else None),
    by_hand=below_by_hand,
    model=BEAM_MODEL
    + "leg = np.sqrt(lift.hanger**2 - (far.real - lift.guide) ** 2)\nplunger_below = (leg - far.imag, 'm')",
    needs=("beam_turned",),
    admits=lambda g, earlier: _hangs(g, _far(g, earlier["beam_turned"])),
    misconceptions=(
        Misconception(
            "hanger-taken-as-vertical",
            lambda g: g.hanger - g.far_arm * np.sin(beam_angle(g)),
            "Here the hanger was taken to hang straight down. H moves on an arc and K on a line: find how far the "
            "hanger leans, then use Pythagoras.",
            1 / 2,
        ),
        Misconception(
            "crank-side-arm",
            lambda g: below(g, ACROSS + 1j * UP + g.near_arm * np.exp(1j * beam_angle(g))),
            "The length QB was used where QH belongs. The second chain hangs from the other arm of the beam.",
            1 / 3,
        ),
        Misconception(
            "tilt-reversed",
            lambda g: below(g, ACROSS + 1j * UP + g.far_arm * np.exp(-1j * beam_angle(g))),
            "The beam was tilted the wrong way: where B goes up, H goes down.",
            1 / 3,
        ),
    ),
    hint=(
        "Solve the first chain for the beam, place H on its right arm, then cross an arc about H with the guide. K "
        "is the lower crossing."
    ),
)

QUESTIONS = (BEAM_TURNED, PLUNGER_BELOW)
