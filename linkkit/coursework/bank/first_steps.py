"""First steps: an angle in radians, and the length of a link from the places of its two pins."""

from __future__ import annotations

from math import hypot, pi

import numpy as np

from ..answers import Number
from ..givens import Given, Setting
from ..question import Misconception, Question, Worked
from ..tolerance import calculated

TURN = Setting(
    id="one-turn",
    version=1,
    title="From degrees to radians",
    story=(
        "A crank on Marrow Quay has been turned, and its angle has been read off in degrees. The solver "
        "works in radians."
    ),
    givens=(Given("turned_deg", "the crank has turned by", tuple(a for a in range(25, 345, 5) if a % 90)),),
    fits=lambda g: g.turned_deg > 0,
)

IN_RADIANS = Question(
    id="in_radians",
    concept="00-numbers",
    version=1,
    setting="one-turn",
    title="The same angle in radians",
    marks=1,
    ask="What is this angle in radians? Write the number alone.",
    kind=Number("", calculated("")),
    answer=lambda g: g.turned,
    by_hand=lambda g: Worked(
        (
            "Half a turn is 180 degrees, or π = 3.1416 radians: one degree is π / 180 = 0.017453 radians.",
            f"{g.turned_deg} × 0.017453 = {g.turned_deg * pi / 180:.4g} radians.",
        ),
        float(g.turned_deg * pi / 180),
    ),
    model="in_radians = np.radians(turn.turned_deg)",
    misconceptions=(
        Misconception(
            "still-degrees",
            lambda g: 1.0 * g.turned_deg,
            "This is still the number of degrees. Multiply it by π / 180.",
        ),
        Misconception(
            "upside-down",
            lambda g: g.turned_deg * 180 / pi,
            "The factor is upside down. A radian is a large angle, 57.3 degrees, so the number must become smaller.",
        ),
        Misconception(
            "whole-turn",
            lambda g: g.turned_deg * pi / 360,
            "A whole turn was taken as π radians. It is 2π; π is half a turn, 180 degrees.",
        ),
        Misconception(
            "parts-of-a-turn",
            lambda g: g.turned_deg / 360,
            "This is the part of a whole turn. A whole turn is 2π radians: multiply by 2π.",
        ),
    ),
    hint="Write the angle as a part of half a turn (divide by 180), then multiply by π.",
)

PLACES = tuple(range(-300, 320, 20))
PINS = Setting(
    id="two-pins",
    version=1,
    title="The length of a link",
    story=(
        "A link of a machine is drawn on squared paper, one millimetre of paper for one millimetre of steel. "
        "Its two pins are at the places below, measured to the right (x) and up (y) from the corner of "
        "the sheet."
    ),
    givens=(
        Given("first_x_mm", "first pin, x", PLACES),
        Given("first_y_mm", "first pin, y", PLACES),
        Given("second_x_mm", "second pin, x", PLACES),
        Given("second_y_mm", "second pin, y", PLACES),
    ),
    fits=lambda g: (np.abs(g.second_x_mm - g.first_x_mm) >= 60) & (np.abs(g.second_y_mm - g.first_y_mm) >= 60),
)


def _places(g):
    return g.first_x + 1j * g.first_y, g.second_x + 1j * g.second_y


def length(g):
    """The distance of the two pins, metres."""
    first, second = _places(g)
    return np.abs(second - first)


def length_by_hand(g):
    """The theorem of Pythagoras."""
    across, up = g.second_x_mm - g.first_x_mm, g.second_y_mm - g.first_y_mm
    found = hypot(across, up)
    steps = (
        f"To the right: {g.second_x_mm} − ({g.first_x_mm}) = {across} mm. "
        f"Up: {g.second_y_mm} − ({g.first_y_mm}) = {up} mm.",
        f"They are the short sides of a right-angled triangle: √({across}² + {up}²) = {found:.4g} mm.",
    )
    return Worked(steps, found / 1000)


LENGTH = Question(
    id="link_length",
    concept="00-numbers",
    version=1,
    setting="two-pins",
    title="How long is the link?",
    marks=1,
    ask="How long is the link, from pin to pin?",
    kind=Number("mm", calculated("mm")),
    answer=length,
    by_hand=length_by_hand,
    model="""first = pins.first_x + 1j * pins.first_y
second = pins.second_x + 1j * pins.second_y
link_length = (abs(second - first), "m")""",
    misconceptions=(
        Misconception(
            "sides-added",
            lambda g: np.abs(_places(g)[1].real - _places(g)[0].real) + np.abs(_places(g)[1].imag - _places(g)[0].imag),
            "The two sides were added. The link is the long side of the triangle: add their squares and take the root.",
        ),
        Misconception(
            "places-added",
            lambda g: np.abs(_places(g)[1] + _places(g)[0]),
            "The places were added. The way from the first pin to the second is second − first, in x and in y.",
        ),
        Misconception(
            "distances-subtracted",
            lambda g: np.abs(np.abs(_places(g)[1]) - np.abs(_places(g)[0])),
            "This is the difference of their distances from the corner. Subtract the places first, x and "
            "y apart, "
            "then find the length.",
        ),
    ),
    hint=("Find how far the second pin lies to the right of the first, and how far above it; then use Pythagoras."),
)

SETTINGS = (TURN, PINS)
QUESTIONS = (IN_RADIANS, LENGTH)
