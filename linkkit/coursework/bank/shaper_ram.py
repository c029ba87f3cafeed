"""The shaper in two chains: crank to slotted lever, lever to ram."""

from __future__ import annotations

from math import atan2, cos, degrees, pi, sin, tan

import numpy as np

from ..answers import Number
from ..givens import Given, Setting
from ..question import Misconception, Question, Worked
from ..tolerance import calculated
from .quick_returns import lever

SETTING = Setting(
    id="shaper-ram",
    version=1,
    title="From the crank to the ram",
    story="In the boatshed's shaper the crank OA turns about O, the origin; its block slides along a slotted lever that "
    "swings about Q, straight below O. Higher up a pin R of the ram stands in the same slot; the ram slides level, so that "
    "R keeps its height above Q and moves along x. The crank angle is measured anticlockwise from +x.\n\n*A real shaper is "
    "guarded and locked off before anyone reaches under the ram; follow the local rules.*",
    givens=(
        Given("crank_mm", "crank OA", tuple(range(80, 155, 5))),
        Given("ground_mm", "OQ, straight down", tuple(range(260, 425, 5))),
        Given("height_mm", "height of R above Q", tuple(range(500, 805, 20))),
        Given("crank_angle_deg", "crank angle", tuple(a for a in range(20, 345, 5) if a % 90)),
    ),
    fits=lambda g: (g.crank / g.ground >= 0.25) & (g.crank / g.ground <= 0.5),
    machine=lever,
)


def lever_direction(g, angle=None):
    """The direction of the lever from Q to A."""
    angle = g.crank_angle if angle is None else angle
    return np.angle(1j * g.ground + g.crank * np.exp(1j * angle))


def _by_hand(g):
    along, up = g.crank_mm * cos(g.crank_angle), g.ground_mm + g.crank_mm * sin(g.crank_angle)
    found = atan2(up, along)
    return found, (
        f"First chain: seen from Q, A lies {along:.2f} mm to the right and {up:.2f} mm up.",
        f"The lever points to {degrees(found):.2f} degrees from +x.",
    )


LEVER_DIRECTION = Question(
    id="lever_direction",
    version=1,
    concept="05-series",
    setting="shaper-ram",
    title="First chain: the lever",
    marks=2,
    ask="Calculate the direction of the lever, from Q upwards, anticlockwise from +x.",
    kind=Number("deg", calculated("deg", turn=True)),
    answer=lever_direction,
    by_hand=lambda g: Worked(_by_hand(g)[1], _by_hand(g)[0]),
    model='lever_direction = (np.arctan2(ram.ground + ram.crank * np.sin(ram.crank_angle), ram.crank * '
    'np.cos(ram.crank_angle)), "rad")',
    misconceptions=(
        Misconception("from-the-upright", lambda g: lever_direction(g) - pi / 2,
                      "This is the lever's lean from the upright. Count from +x.", 1 / 2),
        Misconception("crank-instead", lambda g: 1.0 * g.crank_angle, "This is the crank's direction, from O to A."),
        Misconception("clockwise", lambda g: lever_direction(g, -g.crank_angle),
                      "The crank was set off clockwise. Angles count anticlockwise from +x.", 1 / 3),
    ),
    hint="Coordinates of A, first from O, then from Q: the arrow from Q to A is the lever.",
)  # fmt: skip


def ram_at(g, earlier=None):
    """x of R; from the student's own lever where there is one."""
    turned = earlier["lever_direction"] if earlier and "lever_direction" in earlier else lever_direction(g)
    return g.height / np.tan(turned)


def ram_by_hand(g):
    """Both chains."""
    found, steps = _by_hand(g)
    x = g.height_mm / tan(found)
    return Worked((*steps, f"Second chain: x = {g.height_mm} / tan {degrees(found):.2f}° = {x:.2f} mm."), x / 1000)


RAM_AT = Question(
    id="ram_at",
    version=1,
    concept="05-series",
    setting="shaper-ram",
    title="Second chain: the ram",
    marks=3,
    ask="Calculate the x coordinate of the ram's pin R (Q and O are at x = 0; to the left is negative).",
    kind=Number("mm", calculated("mm", size=0.1)),
    answer=ram_at,
    by_hand=ram_by_hand,
    model="to_pin = 1j * ram.ground + ram.crank * np.exp(1j * ram.crank_angle)\n"
    'ram_at = (ram.height * to_pin.real / to_pin.imag, "m")',
    needs=("lever_direction",),
    admits=lambda g, earlier: pi / 6 < earlier["lever_direction"] < 5 * pi / 6,
    misconceptions=(
        Misconception("slant-for-height", lambda g: g.height * np.cos(lever_direction(g)),
                      "The height of R was used as the length along the lever. Height over slant is the sine, height over "
                      "x the tangent.", 1 / 3),
        Misconception("upside-down", lambda g: g.height * np.tan(lever_direction(g)),
                      "The tangent is upside down: it is height over x.", 1 / 3),
        Misconception("crank-pin-instead", lambda g: g.crank * np.cos(g.crank_angle),
                      "This is the x of A. R is higher up on the lever.", 1 / 3),
    ),
    hint="The lever's direction is known from the first chain. R lies on it at a known height above Q.",
)  # fmt: skip

QUESTIONS = (LEVER_DIRECTION, RAM_AT)
