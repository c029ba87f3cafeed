"""More about the net shaker: its coupler, where it pushes worst, how long its fixed link may be, its drawing."""

from __future__ import annotations

import cmath
from math import degrees, pi

import numpy as np

from ...motion import move
from ..answers import Choice, Number
from ..question import Misconception, Question, Worked
from ..tolerance import calculated
from ..written import Written
from .net_shaker import MODEL_BAR, bar, by_triangles, coupler_about_right, extremes_at_joint, folded, placed


def coupler_angle(g, earlier=None):
    """The direction from A to B; from the student's own rocker where there is one."""
    pin, joint, pivot, _ = placed(g, g.crank_angle)
    if earlier and "rocker_angle" in earlier:
        joint = pivot + g.rocker * np.exp(1j * earlier["rocker_angle"])
    return np.angle(joint - pin)


def coupler_by_hand(g):
    """The two triangles, then from A to B."""
    _, _, joint, steps = by_triangles(g, g.crank_angle)
    found = cmath.phase(joint - g.crank_mm * cmath.exp(1j * g.crank_angle))
    return Worked((*steps, f"From A to B it is the direction {degrees(found):.2f} degrees."), found)


COUPLER_ANGLE = Question(
    id="coupler_angle",
    version=1,
    concept="02-position",
    setting="net-shaker",
    title="Which way does the coupler point?",
    marks=2,
    ask="Calculate the direction of the coupler, from A to B, at your crank angle.",
    kind=Number("deg", calculated("deg", turn=True)),
    answer=coupler_angle,
    by_hand=coupler_by_hand,
    model=MODEL_BAR + 'coupler_angle = (lk.move(net, shaker.crank_angle).angle("coupler"), "rad")',
    needs=("rocker_angle",),
    admits=coupler_about_right,
    misconceptions=(
        Misconception("other-end", lambda g: coupler_angle(g) + pi,
                      "This is the direction from B to A. It is measured at A, looking towards B.", 1 / 2),
        Misconception("against-the-crank", lambda g: coupler_angle(g) - g.crank_angle,
                      "The angle was measured from the crank. Directions count from +x.", 1 / 2),
        Misconception("wrong-circuit",
                      lambda g: np.angle(placed(g, g.crank_angle, "crossed")[1] - placed(g, g.crank_angle)[0]),
                      "This is the coupler on the crossed circuit: B belongs on the left as you look from A to Q.", 1 / 3),
    ),
    hint="Place A and B by their coordinates; the direction is that of the arrow from A to B.",
)  # fmt: skip

WORST = (
    "with the crank along the fixed link, A between O and Q",
    "with the crank along the fixed link, A on the far side of O",
    "with the crank and the coupler in line",
    "with the crank square to the fixed link",
)


def worst_at(g):
    """Where the transmission angle is smallest."""
    inner, outer = (folded(angle) for angle in extremes_at_joint(g))
    return np.where(inner < outer, WORST[0], WORST[1])[()]


def worst_by_hand(g):
    """The angle at B in both positions, by the cosine rule."""

    def at_b(d):
        cosine = (g.coupler_mm**2 + g.rocker_mm**2 - d * d) / (2 * g.coupler_mm * g.rocker_mm)
        return min(degrees(np.arccos(cosine)), 180 - degrees(np.arccos(cosine)))

    short, long = at_b(g.ground_mm - g.crank_mm), at_b(g.ground_mm + g.crank_mm)
    steps = (
        f"With AQ = {g.ground_mm - g.crank_mm} mm the lines of coupler and rocker make {short:.2f} degrees.",
        f"With AQ = {g.ground_mm + g.crank_mm} mm they make {long:.2f} degrees.",
    )
    return Worked(steps, WORST[0] if short < long else WORST[1])


WORST_AT = Question(
    id="worst_at",
    version=1,
    concept="02-transmission",
    setting="net-shaker",
    title="Where does it push worst?",
    marks=2,
    ask="In which position is the transmission angle (0 to 90 degrees) smallest?",
    kind=Choice(WORST),
    answer=worst_at,
    by_hand=worst_by_hand,
    model=MODEL_BAR + f"""toward, away = (lk.move(net, angle) for angle in (0.0, np.pi))
sine = [abs(np.sin(m.angle("coupler") - m.angle("rocker"))) for m in (toward, away)]
worst_at = {WORST[:2]}[int(sine[1] < sine[0])]""",
    misconceptions=(
        Misconception("other-extreme", lambda g: np.where(worst_at(g) == WORST[0], WORST[1], WORST[0])[()],
                      "This is the other extreme, where it pushes better. Fold both angles at B and compare them.", 1 / 2),
        Misconception("in-a-limit", lambda g: np.where(g.crank > 0, WORST[2], "")[()],
                      "There the rocker turns back, but the transmission angle depends on AQ alone: ask where AQ is "
                      "shortest and longest."),
        Misconception("square-crank", lambda g: np.where(g.crank > 0, WORST[3], "")[()],
                      "The crank's angle with the fixed link is not what counts. The angle at B depends on AQ: ask where "
                      "AQ is shortest and longest."),
    ),
    hint="The angle at B depends on AQ alone. Find it for the shortest and for the longest AQ, and fold both.",
)  # fmt: skip

GROUND_AT_MOST = Question(
    id="ground_at_most",
    version=1,
    concept="02-class",
    setting="net-shaker",
    title="How far apart may the fixed pins be?",
    marks=2,
    ask="The pin Q is moved outwards along the x axis; the other three lengths stay. Up to which length of the fixed link "
    "can the crank still turn right round?",
    kind=Number("mm", calculated("mm")),
    answer=lambda g: g.coupler + g.rocker - g.crank,
    by_hand=lambda g: Worked(
        (
            "Moved out, the fixed link becomes the longest. Shortest + longest may at most equal the other two: "
            "crank + OQ = coupler + rocker.",
            f"OQ = {g.coupler_mm} + {g.rocker_mm} − {g.crank_mm} = {g.coupler_mm + g.rocker_mm - g.crank_mm} mm.",
        ),
        float(g.coupler_mm + g.rocker_mm - g.crank_mm) / 1000,
    ),
    model='ground_at_most = (shaker.coupler_mm + shaker.rocker_mm - shaker.crank_mm, "mm")',
    misconceptions=(
        Misconception("where-it-comes-apart", lambda g: g.coupler + g.rocker + g.crank,
                      "At that length the loop only just closes, with all links in one line. The crank stops turning "
                      "fully long before.", 1 / 3),
        Misconception("crank-left-out", lambda g: g.coupler + g.rocker + 0 * g.crank,
                      "The crank was left out. With the crank pointing away from Q, AQ is the fixed link and the crank "
                      "together.", 1 / 3),
        Misconception("nearest-instead", lambda g: np.abs(g.coupler - g.rocker) + g.crank,
                      "This is how near the pins may come. How far apart is asked for."),
    ),
    hint="Grashof: shortest + longest at most equal to the other two. Which link is the longest when Q has moved out?",
)  # fmt: skip


def drawn_diagram(g) -> str:
    """The position diagram at the given crank angle as a construction, SVG."""
    from ...draw.construction import construction

    return construction(move(bar(g), steps=72), int(g.crank_angle_deg) // 5).picture().svg()


DIAGRAM = Question(
    id="shaker_diagram",
    version=1,
    concept="02-position",
    setting="net-shaker",
    title="The position diagram",
    marks=6,
    ask="Draw the position diagram of the net shaker at your crank angle to a scale of your choice, "
    "with both circuits shown and the right one chosen.",
    kind=Written(
        (("the scale, the fixed pins and the crank at its angle", 2), ("both arcs and both intersections", 2),
         ("the right circuit, said why", 1), ("pins and fixed link in the usual symbols, lengths written on", 1)),
        drawing=True,
    ),
    answer=lambda g: "O and Q on the x axis, OA at the crank angle, an arc of AB about A and of QB about Q; B is the "
    "intersection on the left as you look from A to Q.",
    by_hand=lambda g: Worked(
        ("Draw O and Q, then OA; swing AB about A and QB about Q.", "Of the two intersections take the left one."),
        DIAGRAM.answer(g),
    ),
    model="The drawing, and in words: B is the intersection on the left as you look from A to Q, on the open circuit.",
    misconceptions=(),
    hint="O and Q first, then the crank, then the two arcs.",
    picture=drawn_diagram,
)  # fmt: skip

QUESTIONS = (COUPLER_ANGLE, WORST_AT, GROUND_AT_MOST, DIAGRAM)
