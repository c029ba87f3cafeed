"""More about the ice chopper: the direction of its rod, twelve positions, the inner dead centre, a function."""

from __future__ import annotations

from math import asin, degrees, pi, sin

import numpy as np

from ...motion import move
from ..answers import Function, Number
from ..listed import Positions
from ..question import Misconception, Question, Worked
from ..tolerance import calculated, coded
from .ice_chopper import MODEL_BAR, chopper, slider_at
from .quick_returns import _ends


def rod_angle(g, offset=None):
    """The direction of the rod from A to B."""
    return move(chopper(g, offset), g.crank_angle).angle("rod")


def rod_by_hand(g):
    """The sine of the rod's angle."""
    rise = g.offset_mm - g.crank_mm * sin(g.crank_angle)
    found = asin(rise / g.rod_mm)
    steps = (
        f"From A to the guide it is {g.offset_mm} − {g.crank_mm} × sin {g.crank_angle_deg}° = {rise:.2f} mm upwards.",
        f"The rod is {g.rod_mm} mm long: sin φ = {rise:.2f} / {g.rod_mm}, φ = {degrees(found):.2f} degrees.",
    )
    return Worked(steps, found)


ROD_ANGLE = Question(
    id="rod_angle",
    version=1,
    concept="03-position",
    setting="ice-chopper",
    title="How does the rod lie?",
    marks=2,
    ask="Calculate the direction of the connecting rod, from A to B, at your crank angle.",
    kind=Number("deg", calculated("deg", turn=True)),
    answer=rod_angle,
    by_hand=rod_by_hand,
    model=MODEL_BAR + 'rod_angle = (lk.move(bars, chopper.crank_angle).angle("rod"), "rad")',
    misconceptions=(
        Misconception("offset-left-out", lambda g: rod_angle(g, 0 * g.offset),
                      "The offset was left out: the rod rises from A to y = offset, not to y = 0.", 1 / 3),
        Misconception("sense-reversed", lambda g: -rod_angle(g),
                      "The size is right and the sense is not: from A to B upwards is positive.", 1 / 2),
        Misconception("other-end", lambda g: rod_angle(g) + pi,
                      "This is the direction from B to A. Look from A to B.", 1 / 2),
    ),
    hint="How far is the guide above A? That and the length of the rod give the sine.",
)  # fmt: skip

TWELVE = np.radians(np.arange(0, 360, 30))
ROWS = tuple(f"{angle} deg" for angle in range(0, 360, 30))


def _column(g):
    """The givens with a last axis for the positions."""
    return type(g)({name: np.asarray(value)[..., None] for name, value in g.values.items()})


def twelve(g, offset=None):
    """x of the slider at the twelve crank angles."""
    wide = _column(g)
    return slider_at(wide, TWELVE, None if offset is None else np.asarray(offset)[..., None])


def twelve_by_hand(g):
    """The right-angled triangle, twelve times."""
    rise = g.offset_mm - g.crank_mm * np.sin(TWELVE)
    found = g.crank_mm * np.cos(TWELVE) + np.sqrt(g.rod_mm**2 - rise**2)
    steps = tuple(f"{row}: {x:.1f} mm" for row, x in zip(ROWS, found, strict=True))
    formula = f"x = {g.crank_mm} cos θ + √({g.rod_mm}² − ({g.offset_mm} − {g.crank_mm} sin θ)²)."
    return Worked((formula, *steps), found / 1000)


TWELVE_POSITIONS = Question(
    id="twelve_positions",
    version=1,
    concept="03-position",
    setting="ice-chopper",
    title="Twelve positions",
    marks=6,
    ask="Calculate the x coordinate of the slider's pin B at twelve crank angles. Your own crank angle of above is not "
    "needed here.",
    kind=Positions(ROWS, "mm", calculated("mm")),
    answer=twelve,
    by_hand=twelve_by_hand,
    model=MODEL_BAR + """at = lk.move(bars, np.radians(np.arange(0, 360, 30))).point("B").real
for row, x in zip(twelve_positions, at):
    twelve_positions[row] = (x, "m")""",
    misconceptions=(
        Misconception("offset-left-out", lambda g: twelve(g, 0 * g.offset),
                      "The offset was left out in all rows.", 1 / 3),
        Misconception("clockwise", lambda g: slider_at(_column(g), -TWELVE),
                      "The crank was turned clockwise: the rows of 30 and of 330 degrees are exchanged, and so on.", 1 / 3),
        Misconception("harmonic", lambda g: slider_at(_column(g), 0 * TWELVE)
                      - _column(g).crank * (1 - np.cos(TWELVE)),
                      "The rod was taken to stay parallel. It leans, so the slider's motion is not the crank's cosine.",
                      1 / 4),
    ),
    hint="Do one row with care, then the same for the rest: A, the rise from A to the guide, Pythagoras along the guide.",
)  # fmt: skip


def inner_by_hand(g):
    """The right-angled triangle of the folded position."""
    lean = asin(g.offset_mm / (g.rod_mm - g.crank_mm))
    steps = (
        f"Folded on each other, OB = {g.rod_mm} − {g.crank_mm} = {g.rod_mm - g.crank_mm} mm: OB rises at "
        f"{degrees(lean):.2f} degrees.",
        f"The crank points the other way: {degrees(lean):.2f} + 180 = {degrees(lean) + 180:.2f} degrees.",
    )
    return Worked(steps, lean + pi)


INNER_DEAD_CENTRE = Question(
    id="inner_dead_centre",
    version=1,
    concept="03-stroke",
    setting="ice-chopper",
    title="The inner dead centre",
    marks=2,
    ask="At which crank angle does the slider stand at its inner dead centre, nearest to O?",
    kind=Number("deg", calculated("deg", turn=True)),
    answer=lambda g: _ends(g)[1],
    by_hand=inner_by_hand,
    model=MODEL_BAR + """ends = lk.facts(bars).limits
inner_dead_centre = (min(ends, key=lambda angle: lk.move(bars, angle).point("B").real), "rad")""",
    misconceptions=(
        Misconception("line-instead", lambda g: _ends(g)[1] - pi,
                      "This is the direction of OB. Folded back, the crank points the other way: half a turn more.", 1 / 2),
        Misconception("half-a-turn-on", lambda g: _ends(g)[0] + pi,
                      "This is half a turn from the outer dead centre. With an offset the two are not half a turn apart.",
                      1 / 2),
        Misconception("crank-level", lambda g: pi + 0 * g.crank,
                      "That holds if the guide passes through O. Here OB rises from O to the guide.", 1 / 3),
    ),
    hint="Crank and rod lie on each other: OB = rod − crank, and B is as high as the guide. The crank points away from B.",
)  # fmt: skip

HEADING = '''def slider_x(crank_angle):
    """x of the slider's pin B at any crank angle, in metres.

    Parameters
    ----------
    crank_angle : float
        Radians, anticlockwise from +x; any value.

    Returns
    -------
    float
        Metres from O along x, on the side of +x.
    """'''


def slider_x(g, angles, offset=None):
    """x of the slider over an axis of crank angles."""
    return slider_at(_column(g), np.asarray(angles), offset)


SLIDER_X = Question(
    id="slider_x",
    version=1,
    concept="06-loop",
    setting="ice-chopper",
    title="The slider at any crank angle",
    marks=6,
    own_code=True,
    ask="Write a function that returns the slider's x for any crank angle, from your lengths, in your own code: the "
    "standard library and numpy are there. Write your lengths into it as numbers, or use those of the table above.",
    kind=Function("slider_x", HEADING, coded("mm"), lambda unit: (2 * unit - 0.5) * 2 * pi, "mm"),
    answer=slider_x,
    by_hand=lambda g: Worked(
        ("x = r cos θ + √(l² − (e − r sin θ)²) with your lengths in metres, here at one radian.",),
        float(g.crank * np.cos(1.0) + np.sqrt(g.rod**2 - (g.offset - g.crank * np.sin(1.0)) ** 2)),
    ),
    model="""rise = chopper.offset - chopper.crank * np.sin(crank_angle)
return float(chopper.crank * np.cos(crank_angle) + np.sqrt(chopper.rod ** 2 - rise ** 2))""",
    misconceptions=(
        Misconception("degrees-for-radians", lambda g, x: slider_x(g, np.radians(x)),
                      "Your function takes its input for degrees. It is called with radians.", 1 / 3,
                      "rise = chopper.offset - chopper.crank * np.sin(np.radians(crank_angle))\n"
                      "return chopper.crank * np.cos(np.radians(crank_angle)) + np.sqrt(chopper.rod ** 2 - rise ** 2)"),
        Misconception("millimetres-out", lambda g, x: 1000 * slider_x(g, x),
                      "Your function returns millimetres; metres are asked for.", 2 / 3,
                      "rise = chopper.offset_mm - chopper.crank_mm * np.sin(crank_angle)\n"
                      "return chopper.crank_mm * np.cos(crank_angle) + np.sqrt(chopper.rod_mm ** 2 - rise ** 2)"),
        Misconception("offset-left-out", lambda g, x: slider_x(g, x, 0.0),
                      "Your function leaves the offset out: the rod rises from A to y = offset.", 1 / 3,
                      "rise = chopper.crank * np.sin(crank_angle)\n"
                      "return chopper.crank * np.cos(crank_angle) + np.sqrt(chopper.rod ** 2 - rise ** 2)"),
    ),
    hint="Try it at an angle that you have drawn. The root is that of rod² less the square of the rise from A to the guide.",
)  # fmt: skip

QUESTIONS = (ROD_ANGLE, TWELVE_POSITIONS, INNER_DEAD_CENTRE, SLIDER_X)
