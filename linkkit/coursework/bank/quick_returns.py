"""Slow one way and quick the other: the slotted lever of the shaper, and the chopper with its guide set aside."""

from __future__ import annotations

from dataclasses import replace
from math import asin, degrees, pi

import numpy as np

from ...linkage import Input, Linkage, Slide
from ..answers import Number
from ..givens import Given, Setting
from ..question import Misconception, Question, Worked
from ..tolerance import calculated
from . import ice_chopper

STORY = """In the boatshed a shaper planes keels. Its crank turns evenly about a fixed pin; the block on the
crank's pin slides along a slotted lever and swings it about a second fixed pin. The cut is made while the crank
goes round by the far side of the lever's pin, the return while it goes by the near side.

*A real shaper is guarded and locked off before anyone reaches under the ram; follow the local rules.*"""


def lever(g):
    """The crank and the slotted lever of these numbers, Q below O."""
    points = {"O": 0j, "A": g.crank + 0j, "Q": -1j * g.ground}
    links = {"frame": ("O", "Q"), "crank": ("O", "A"), "block": ("A",), "lever": ("Q",)}
    way = (points["A"] - points["Q"]) / abs(points["A"] - points["Q"])
    slot = Slide("slot", "block", "lever", points["Q"], way)
    turn = Input("crank", "angle", "O", ("frame", "crank"))
    return Linkage(points, links, "frame", (slot,), (turn,), output="lever", name="slotted lever")


SLOTTED = Setting(
    id="slotted-lever",
    version=1,
    title="The slotted lever",
    story=STORY,
    givens=(
        Given("crank_mm", "crank", tuple(range(80, 185, 5))),
        Given("ground_mm", "distance of the two fixed pins", tuple(range(240, 425, 5))),
    ),
    fits=lambda g: (g.crank / g.ground >= 0.25) & (g.crank / g.ground <= 0.7),
    machine=lever,
)


def half_swing(g):
    """The lever's angle from the line of the two pins to a limit position, radians."""
    return np.arcsin(g.crank / g.ground)


def _ratio(angle):
    return (pi + angle) / (pi - angle)


def _half_by_hand(g):
    half = degrees(asin(g.crank_mm / g.ground_mm))
    step = (
        "In a limit position the lever touches the circle of the crank's pin, so crank and lever are at right angles. "
        f"The sine of the lever's half swing is {g.crank_mm} / {g.ground_mm}: {half:.2f} degrees."
    )
    return half, step


def swing_by_hand(g):
    """Twice the angle of the right-angled triangle."""
    half, step = _half_by_hand(g)
    return Worked(
        (step, f"It swings as far to the other side: 2 × {half:.2f} = {2 * half:.2f} degrees."), 2 * np.radians(half)
    )


LEVER_SWING = Question(
    id="lever_swing",
    concept="03-return",
    version=1,
    setting="slotted-lever",
    title="How far does the lever swing?",
    marks=2,
    ask="Calculate the swing of the lever, from one limit position to the other.",
    kind=Number("deg", calculated("deg")),
    answer=lambda g: 2 * half_swing(g),
    by_hand=swing_by_hand,
    model='lever_swing = (2 * np.arcsin(lever.crank / lever.ground), "rad")',
    misconceptions=(
        Misconception("one-side", half_swing, "This is the swing to one side. It goes as far to the other side.",
                      1 / 2),
        Misconception(
            "crank-level",
            lambda g: 2 * np.arctan(g.crank / g.ground),
            "The crank was put at right angles to the line of the pins. The lever has turned furthest where it touches "
            "the crank circle: crank and lever at right angles.",
            1 / 3,
        ),
    ),
    hint="Draw the crank circle and the line from the lever's pin that just touches it. The radius there is at right "
    "angles to that line.",
)  # fmt: skip


def ratio_by_hand(g):
    """The crank angles of cut and return."""
    half, step = _half_by_hand(g)
    found = (180 + 2 * half) / (180 - 2 * half)
    steps = (
        step,
        f"The crank stands at right angles to the lever there: on the cut it turns 180 + 2 × {half:.2f} = "
        f"{180 + 2 * half:.2f} degrees, on the return {180 - 2 * half:.2f} degrees.",
        f"At an even speed the times are as the angles: {180 + 2 * half:.2f} / {180 - 2 * half:.2f} = {found:.4g}.",
    )
    return Worked(steps, found)


LEVER_RATIO = Question(
    id="lever_ratio",
    concept="03-return",
    version=1,
    setting="slotted-lever",
    title="Slow cut, quick return",
    marks=2,
    ask="Calculate the time ratio: the time of the cut divided by that of the return.",
    kind=Number("", calculated("")),
    answer=lambda g: _ratio(2 * half_swing(g)),
    by_hand=ratio_by_hand,
    model="half = np.arcsin(lever.crank / lever.ground)\nlever_ratio = (np.pi + 2 * half) / (np.pi - 2 * half)",
    misconceptions=(
        Misconception("inverted", lambda g: 1 / _ratio(2 * half_swing(g)),
                      "This is the return over the cut. The time ratio is the other way up, never less than one.",
                      1 / 2),
        Misconception("one-side", lambda g: _ratio(half_swing(g)),
                      "The half swing was used. Cut and return differ by the half swing at both ends: take it "
                      "twice.", 1 / 2),
        Misconception("pins-and-crank", lambda g: (g.ground + g.crank) / (g.ground - g.crank),
                      "Lengths were compared. What decides the times is how far the crank turns on each stroke."),
        Misconception("no-difference", lambda g: 1 + 0 * g.crank,
                      "The strokes take the same time only if the crank turns half a turn for each. It does not here."),
    ),
    hint="Find the crank's two positions with crank and lever at right angles. The strokes take times as the angles "
         "that "
    "the crank turns between them.",
)  # fmt: skip


OFFSET = replace(
    ice_chopper.SETTING,
    id="offset-chopper",
    givens=tuple(given for given in ice_chopper.SETTING.givens if given.name != "crank_angle_deg"),
)


def offset_ratio(g):
    """The time ratio of the offset slider-crank: the longer crank angle between the limits over the shorter."""
    return _ratio(_between(g))


def _ends(g):
    """The crank angles of the outer and the inner limit position."""
    return np.arcsin(g.offset / (g.rod + g.crank)), np.arcsin(g.offset / (g.rod - g.crank)) + pi


def _between(g):
    """By how much the crank's longer way between the limits exceeds half a turn."""
    outer, inner = _ends(g)
    return np.abs(inner - outer - pi)


def offset_by_hand(g):
    """The two right-angled triangles with the offset as their height."""
    far = degrees(asin(g.offset_mm / (g.rod_mm + g.crank_mm)))
    near = degrees(asin(g.offset_mm / (g.rod_mm - g.crank_mm)))
    extra = near - far
    found = (180 + extra) / (180 - extra)
    steps = (
        f"Farthest out crank and rod are stretched: sin θ = {g.offset_mm} / {g.rod_mm + g.crank_mm}, θ = {far:.2f} "
        f"degrees.",
        f"Nearest they lie on each other: sin θ = {g.offset_mm} / {g.rod_mm - g.crank_mm}, the line OB at {near:.2f} "
        f"degrees "
        f"and the crank opposite to it, at {180 + near:.2f} degrees.",
        f"The crank turns {180 + extra:.2f} degrees for one stroke and {180 - extra:.2f} degrees for the other: "
        f"time ratio {found:.4g}.",
    )
    return Worked(steps, found)


OFFSET_RATIO = Question(
    id="offset_ratio",
    concept="03-return",
    version=1,
    setting="offset-chopper",
    title="The chopper's quick return",
    marks=2,
    ask="The crank turns evenly. Calculate the time ratio: the time of the slower stroke divided by that of the "
        "quicker one.",
    kind=Number("", calculated("")),
    answer=offset_ratio,
    by_hand=offset_by_hand,
    model="bars = lk.slider_crank(chopper.crank, chopper.rod, offset=chopper.offset)\n"
    "offset_ratio = lk.facts(bars).time_ratio",
    misconceptions=(
        Misconception("inverted", lambda g: 1 / offset_ratio(g),
                      "This is the quicker stroke over the slower one. The time ratio is the other way up.", 1 / 2),
        Misconception("no-difference", lambda g: 1 + 0 * g.crank,
                      "That holds only if the guide passes through O. Find the crank angle in both limit positions."),
        Misconception("angles-added", lambda g: _ratio(np.abs(np.sum(_ends(g), axis=0) - pi)),
                      "The two angles at O were added. Both lines OB rise to the same side: only their difference "
                      "makes the strokes unlike.", 1 / 3),
    ),
    hint="In a limit position crank and rod lie in one line. Find the direction of OB in both, and from them how far "
         "the "
    "crank turns each way.",
)  # fmt: skip


def outer_dead_centre(g):
    """The crank angle at which the slider, when it drives, cannot turn the crank: stretched out."""
    return _ends(g)[0]


def dead_by_hand(g):
    """The right-angled triangle of the stretched position."""
    found = asin(g.offset_mm / (g.rod_mm + g.crank_mm))
    steps = (
        f"At the outer dead centre crank and rod are stretched in line: OB = {g.rod_mm + g.crank_mm} mm.",
        f"B is {g.offset_mm} mm above O: sin θ = {g.offset_mm} / {g.rod_mm + g.crank_mm}, θ = {degrees(found):.2f} "
        f"degrees.",
    )
    return Worked(steps, found)


OUTER_DEAD_CENTRE = Question(
    id="outer_dead_centre",
    concept="03-stroke",
    version=1,
    setting="offset-chopper",
    title="Where the slider cannot turn the crank",
    marks=2,
    ask="Now the slider drives. At which crank angle does it stand at its outer dead centre, where no push on the "
        "slider "
    "can turn the crank?",
    kind=Number("deg", calculated("deg", turn=True)),
    answer=outer_dead_centre,
    by_hand=dead_by_hand,
    model='outer_dead_centre = (np.arcsin(chopper.offset / (chopper.rod + chopper.crank)), "rad")',
    misconceptions=(
        Misconception("crank-level", lambda g: 0 * g.crank,
                      "That is the dead centre of a chopper whose guide passes through O. Here B is above O: crank "
                      "and rod "
                      "stretched in line point up to it.", 1 / 3),
        Misconception("rod-alone", lambda g: np.arcsin(g.offset / g.rod),
                      "The rod alone was used. At the outer dead centre OB is rod and crank together.", 1 / 3),
        Misconception("other-end", lambda g: _ends(g)[1],
                      "This is the inner dead centre, with crank and rod folded on each other. The outer one is asked "
                      "for.",
                      1 / 2),
        Misconception("crank-upright", lambda g: pi / 2 + 0 * g.crank,
                      "With the crank upright a push turns it well. It cannot where crank and rod are in one line."),
    ),
    hint="At a dead centre crank and rod are in one line. Stretched out, OB = crank + rod, and B is as high as the "
         "guide.",
)  # fmt: skip

SETTINGS = (SLOTTED, OFFSET)
QUESTIONS = (LEVER_SWING, LEVER_RATIO, OFFSET_RATIO, OUTER_DEAD_CENTRE)
