"""Choosing dimensions for a wanted motion: swing and time ratio of a crank-rocker, stroke and time ratio of a slider-crank.

Any dimensions that do what the brief asks are right. The worked solutions are the usual closed forms: the circle
over the
chord of the two limit positions, and the triangle of the two dead centres.
"""

from __future__ import annotations

import numpy as np

from ...builders import four_bar, slider_crank
from ...quantity import told_apart
from ..designed import Aim, Brief, Defect, Designed, Limit, degrees, distinct, mm, posed
from ..givens import Given, Setting
from ..question import Misconception, Question, Worked

DEG = np.pi / 180
BARS = ("ground OQ", "crank OA", "coupler AB", "rocker QB")
CARE = (
    "*Choosing lengths is where the harm is built in. Here it is an exercise; a real machine is checked by a "
    "qualified person under the local rules.*"
)


def folded(angle):
    """A transmission angle as it counts: how far from a straight line, at the most 90 degrees."""
    return np.minimum(angle, np.pi - angle)


def part(values, *, of=4):
    """The rows of a design as separate arrays."""
    return tuple(values[..., k] for k in range(of))


# --- a crank-rocker: swing and time ratio ----------------------------------------------------------------------------


def shaker_does(g, values):
    """What four lengths do, by the triangles of the two limit positions and of the two transmission angles."""
    ground, crank, coupler, rocker = part(values)
    far, near = coupler + crank, coupler - crank
    outer, inner = (np.arccos((ground**2 + d**2 - rocker**2) / (2 * ground * d)) for d in (far, near))
    swing = np.arccos((ground**2 + rocker**2 - far**2) / (2 * ground * rocker)) - np.arccos(
        (ground**2 + rocker**2 - near**2) / (2 * ground * rocker)
    )
    between = [
        np.arccos((coupler**2 + rocker**2 - (ground + s * crank) ** 2) / (2 * coupler * rocker)) for s in (1, -1)
    ]
    lengths = np.stack([ground, crank, coupler, rocker])
    spare = lengths.sum(axis=0) - 2 * (lengths.max(axis=0) + lengths.min(axis=0))
    slow = np.pi + np.abs(inner - outer)
    return {
        "closes": lengths.sum(axis=0) > 2 * lengths.max(axis=0),
        "crank_turns": (spare > 0) & (crank > 0) & (crank <= lengths.min(axis=0)),
        "all_turn": (spare > 0) & (ground <= lengths.min(axis=0)),
        "swing": np.abs(swing),
        "ratio": slow / (2 * np.pi - slow),
        "transmission": np.minimum(folded(between[0]), folded(between[1])),
        "longest": lengths.max(axis=0),
    }


SHAKER_BRIEF = Brief(
    look=shaker_does,
    aims=(
        Aim(1, lambda s, g: np.abs(s["swing"] - g.swing), 0.5 * DEG, 4 * DEG,
            lambda s, g: f"Your rocker swings through {degrees(s['swing'], g.swing)}; {g.swing_deg} degrees are wanted."),
        Aim(1, lambda s, g: np.abs(s["ratio"] - g.time_ratio), 0.01, 0.06,
            lambda s, g: f"Your time ratio is {told_apart(s['ratio'], g.time_ratio, digits=3)}; {g.time_ratio} is wanted."),
    ),
    limits=(
        Limit(0.25, lambda s, g: g.least - s["transmission"], 0.5 * DEG,
              lambda s, g: f"The transmission angle is too small: it falls to {degrees(s['transmission'], g.least)}, and the "
                           f"brief allows no less than {g.least_deg}."),
        Limit(0.25, lambda s, g: s["longest"] - g.room, 5e-4,
              lambda s, g: f"It is too large for the space: the longest link is {mm(s['longest'], g.room)}, and {g.room_mm} mm "
                           "is the most."),
    ),
    defects=(
        Defect(lambda s, g: ~s["closes"], lambda s, g: "These four lengths never close: the longest is longer than the "
                                                       "other three together."),
        Defect(lambda s, g: s["all_turn"] & ~s["crank_turns"], lambda s, g: "The shortest link is the ground, so "
                                                                            "crank and rocker both turn right round: "
                                                      "a double-crank. The rocker has no limit positions."),
        Defect(lambda s, g: ~s["crank_turns"], lambda s, g: "Your crank does not turn fully. It has to be the "
                                                            "shortest link, and shortest and "
                                                           "longest together shorter than the other two."),
    ),
)  # fmt: skip
SPLITS = np.linspace(0.08, 0.92, 29)  # where on its circle the crank's pivot is tried


def lean(ratio):
    """The angle between crank and crank in the two limit positions, from a time ratio."""
    return np.pi * (ratio - 1) / (ratio + 1)


def shaker_lengths(swing, between, room):
    """The crank-rocker of best transmission angle whose longest link takes up nine tenths of the room."""
    lengths = distinct(shaker_shapes, swing, between)
    return lengths * (0.9 * np.asarray(room) / lengths.max(axis=-1))[..., None]


def shaker_shapes(swing, between):
    """The best of the pivots that see the chord of a swing under `between`; the rocker is 1. One row for each pair."""
    swing, between = swing[:, None], between[:, None]
    first = SPLITS * (np.pi - between)
    chord = 2 * np.sin(swing / 2)
    far, near = (chord * np.sin(x) / np.sin(between) for x in (np.pi - between - first, first))
    ground = np.sqrt(1 + far**2 - 2 * far * np.cos(first - (np.pi - swing) / 2))
    lengths = np.stack([ground, (far - near) / 2, (far + near) / 2, np.ones_like(far)], axis=-1)
    with np.errstate(all="ignore"):
        seen = shaker_does(None, lengths)
    good = np.where(seen["crank_turns"] & (np.abs(seen["swing"] - swing) < 1e-9), seen["transmission"], -1.0)
    return lengths[np.arange(len(lengths)), good.argmax(axis=1)]


def shaker_right(g):
    """A solution."""
    return shaker_lengths(g.swing, lean(g.time_ratio), g.room)


def shaker_half(g):
    """The whole swing taken to each side of the middle."""
    return shaker_lengths(2 * g.swing, lean(g.time_ratio), g.room)


def shaker_double(g):
    """The excess over half a turn taken between the two cranks, twice what it is."""
    return shaker_lengths(g.swing, 2 * lean(g.time_ratio), g.room)


def shaker_by_hand(g):
    """The construction in the plane: chord, circle, pivot, distances."""
    lengths = shaker_right(g)
    between, rocker = lean(g.time_ratio), lengths[3]
    far = lengths[2] + lengths[1]
    ends = rocker * np.exp(1j * (np.pi / 2 + g.swing / 2 * np.array([-1, 1])))
    chord = np.abs(ends[1] - ends[0])
    at_far = np.arcsin((lengths[2] - lengths[1]) * np.sin(between) / chord)
    pivots = [
        ends[k] + far * np.exp(1j * (np.angle(ends[1 - k] - ends[k]) + s * at_far)) for k in (0, 1) for s in (1, -1)
    ]
    pivot = min(pivots, key=lambda p: abs(abs(p) - lengths[0]))
    near = min(np.abs(pivot - ends))
    value = np.array([abs(pivot), (far - near) / 2, (far + near) / 2, abs(ends[0])])
    return Worked(
        (
            f"Time ratio {g.time_ratio} = (180 + α) / (180 − α): α = 180 ({g.time_ratio} − 1) / ({g.time_ratio} + 1) = "
            f"{between / DEG:.3f} degrees.",
            f"Draw the rocker, {1000 * rocker:.2f} mm, in both limit positions, {g.swing_deg} degrees apart. The "
            "chord is "
            f"{1000 * chord:.2f} mm.",
            "From the crank's pivot O the chord is seen under α: O lies on a circle over it. Each place on the "
            "circle gives "
            "a linkage with the wanted swing and time ratio; this one has the best transmission angle of those tried.",
            f"There O is {1000 * far:.2f} mm and {1000 * near:.2f} mm from the ends: coupler + crank and coupler "
            "− crank.",
        ),
        value,
    )  # fmt: skip


SHAKER = Setting(
    id="new-shaker",
    version=1,
    title="A new net shaker",
    story=f"""The second net shed wants a shaker of its own: a crank OA that a motor turns steadily, a coupler AB, and a
rocker QB that shakes the net to and fro. One way is to take longer than the other. {CARE}""",
    givens=(
        Given("swing_deg", "swing wanted", tuple(range(24, 49))),
        Given("time_ratio", "time ratio wanted, slow way to quick way", tuple(np.round(np.arange(1.05, 1.21, 0.01), 2).tolist())),
        Given("least_deg", "transmission angle, never below", tuple(range(20, 33))),
        Given("room_mm", "no link longer than", tuple(range(300, 620, 20))),
    ),
    fits=lambda g: posed(SHAKER_BRIEF, g, shaker_right, (shaker_half, 0.5), (shaker_double, 0.5)),
    machine=lambda g: four_bar(*shaker_right(g)),
)  # fmt: skip

SHAKER_MODEL = """lean = np.pi * (shaker.time_ratio - 1) / (shaker.time_ratio + 1)
best, found = 0, None
for first in np.linspace(0.05, 0.95, 31) * (np.pi - lean):
    chord = 2 * np.sin(shaker.swing / 2)
    far = chord * np.sin(np.pi - lean - first) / np.sin(lean)
    near = chord * np.sin(first) / np.sin(lean)
    ground = np.sqrt(1 + far**2 - 2 * far * np.cos(first - (np.pi - shaker.swing) / 2))
    tried = np.array([ground, (far - near) / 2, (far + near) / 2, 1.0])
    if min(tried) == tried[1] > 1e-6 and 2 * (max(tried) + min(tried)) < sum(tried):
        facts = lk.facts(lk.four_bar(*tried))
        least = min(facts.transmission_angle[0], np.pi - facts.transmission_angle[1])
        if least > best and abs(facts.swing - shaker.swing) < 0.001:
            best, found = least, tried
found = 0.9 * shaker.room * found / max(found)
new_shaker = {row: (length, "m") for row, length in zip(new_shaker, found)}"""

NEW_SHAKER = Question(
    id="new_shaker",
    concept="12-brief",
    version=1,
    setting="new-shaker",
    title="A crank-rocker for a swing and a time ratio",
    marks=6,
    ask="Choose the four lengths: a crank-rocker with your swing and time ratio, within the limits of the table.",
    kind=Designed(
        rows=BARS, units=("mm",) * 4, brief=SHAKER_BRIEF,
        told="Swing within 0.5 degrees, time ratio within 0.01; half of the marks each. Each limit that is passed "
             "costs a quarter.",
    ),
    answer=shaker_right,
    by_hand=shaker_by_hand,
    model=SHAKER_MODEL,
    misconceptions=(
        Misconception("swing-to-each-side", shaker_half, "The swing was taken to each side of the middle: it is the "
                                                         "whole angle between the limit positions.", 0.5),
        Misconception("twice-the-lean", shaker_double, "α was taken twice as large. The slow way is 180 degrees + "
                                                       "α, the quick way 180 degrees − α.", 0.5),
    ),
    hint="Draw both limit positions of the rocker; the crank's pivot sees their chord under the angle α of the "
         "time ratio. "
         "Move it along that circle.",
)  # fmt: skip


# --- a slider-crank: stroke and time ratio ---------------------------------------------------------------------------


def saw_does(g, values):
    """What crank, rod and offset do; the time ratio is that of the way in to the way out."""
    crank, rod, offset = part(values, of=3)
    far, near, off = rod + crank, rod - crank, np.abs(offset)
    between = np.arcsin(offset / near) - np.arcsin(offset / far)
    return {
        "turns": (near > off) & (crank > 0),
        "stroke": np.sqrt(far**2 - offset**2) - np.sqrt(near**2 - offset**2),
        "ratio": (np.pi + between) / (np.pi - between),
        "lean": np.arcsin((crank + off) / rod),
        "reach": np.sqrt(far**2 - offset**2),
    }


def saw_ratio_says(s, g):
    """What to say of a time ratio."""
    if s["ratio"] < 1:
        return "The quick stroke is the wrong way: your slider comes in quickly. Look at the side of the offset."
    return f"Your time ratio, way in to way out, is {told_apart(s['ratio'], g.time_ratio, digits=3)}; {g.time_ratio} is wanted."


SAW_BRIEF = Brief(
    look=saw_does,
    aims=(
        Aim(1, lambda s, g: np.abs(s["stroke"] / g.stroke - 1), 0.01, 0.04,
            lambda s, g: f"Your stroke is {mm(s['stroke'], g.stroke)}; {g.stroke_mm} mm are wanted."),
        Aim(1, lambda s, g: np.abs(s["ratio"] - g.time_ratio), 0.01, 0.06, saw_ratio_says),
    ),
    limits=(
        Limit(0.25, lambda s, g: s["lean"] - g.lean, 0.5 * DEG,
              lambda s, g: f"The transmission angle is too small: the rod leans {degrees(s['lean'], g.lean)} from the "
                           "slide, and "
                           f"{g.lean_deg} is the most."),
        Limit(0.25, lambda s, g: s["reach"] - g.room, 5e-4,
              lambda s, g: f"It is too large for the space: the slider goes out to {mm(s['reach'], g.room)}, and "
                           f"{g.room_mm} mm is "
                           "the most."),
    ),
    defects=(Defect(lambda s, g: ~s["turns"], lambda s, g: "Your crank does not turn fully: the rod has to be "
                                                           "longer than "
                                                           "crank and offset together."),),
)  # fmt: skip
PARTS = np.linspace(0.12, 0.7, 20)  # crank to rod


def saw_lengths(stroke, between, room):
    """The slider-crank whose rod leans least, of those that stay within nine tenths of the room."""
    stroke, between, room = (np.asarray(x, dtype=float)[..., None] for x in (stroke, between, room))
    rod = stroke / 2 / np.hypot(np.sin(between / 2), PARTS * np.cos(between / 2))
    crank = PARTS * rod
    offset = (rod**2 - crank**2) * np.sin(between) / stroke
    tried = np.stack([crank, rod, offset], axis=-1)
    with np.errstate(all="ignore"):
        seen = saw_does(None, tried)
    cost = np.where(seen["turns"] & (seen["reach"] < 0.9 * room), seen["lean"], np.inf)
    return np.take_along_axis(tried, cost.argmin(axis=-1)[..., None, None], axis=-2)[..., 0, :]


def saw_right(g):
    """A solution."""
    return saw_lengths(g.stroke, lean(g.time_ratio), g.room)


def saw_other_side(g):
    """The offset on the other side."""
    return saw_right(g) * np.array([1, 1, -1])


def saw_plain_stroke(g):
    """The crank taken as half of the stroke, as if there were no offset; the time ratio is kept."""
    right = saw_right(g)
    return right * (g.stroke / 2 / right[..., 0])[..., None]


def saw_by_hand(g):
    """The triangle of the two dead centres, and its height."""
    crank, rod, _ = saw_right(g)
    between, k = lean(g.time_ratio), crank / rod
    unit = np.sqrt((1 + k) ** 2 + (1 - k) ** 2 - 2 * (1 + k) * (1 - k) * np.cos(between))
    rod = g.stroke / unit
    far, near = rod * (1 + k), rod * (1 - k)
    half = (far + near + g.stroke) / 2
    area = np.sqrt(half * (half - far) * (half - near) * (half - g.stroke))
    value = np.array([k * rod, rod, 2 * area / g.stroke])
    return Worked(
        (
            f"α = 180 ({g.time_ratio} − 1) / ({g.time_ratio} + 1) = {between / DEG:.3f} degrees.",
            f"At the dead centres OB is rod + crank and rod − crank, with α between. With crank / rod = {k:.3f} the "
            "third side is "
            f"{unit:.4f} rods, and it is the stroke: the rod is {1000 * rod:.2f} mm, the crank "
            f"{1000 * k * rod:.2f} mm.",
            f"The offset is the height of that triangle over the stroke: {1000 * value[2]:.2f} mm, upwards, so that "
            "the way out is "
            "the quick one.",
        ),
        value,
    )  # fmt: skip


SAW = Setting(
    id="ice-saw",
    version=1,
    title="A saw for the ice house",
    story=f"""A power saw for blocks of ice: a crank OA about O turns steadily anticlockwise, a rod AB pulls the
blade B along
a straight slide parallel to the x axis, on the side of +x. The slide may lie above (offset positive) or below O. It
cuts on the way in, towards
O, and that is to be the slow way. {CARE}""",
    givens=(
        Given("stroke_mm", "stroke wanted", tuple(range(80, 305, 5))),
        Given("time_ratio", "time ratio wanted, way in to way out", tuple(np.round(np.arange(1.10, 1.36, 0.01), 2).tolist())),
        Given("lean_deg", "angle between rod and slide, never above", tuple(range(45, 61))),
        Given("room_mm", "blade, no further out from O (along the slide) than", tuple(range(300, 820, 20))),
    ),
    fits=lambda g: posed(SAW_BRIEF, g, saw_right, (saw_other_side, 0.5), (saw_plain_stroke, 0.5)),
    machine=lambda g: slider_crank(*saw_right(g)),
)  # fmt: skip

SAW_MODEL = """lean = np.pi * (saw.time_ratio - 1) / (saw.time_ratio + 1)
best, found = 7, None
for k in np.linspace(0.1, 0.7, 25):
    rod = saw.stroke / np.sqrt(2 + 2 * k**2 - 2 * (1 - k**2) * np.cos(lean))
    offset = (1 - k**2) * rod**2 * np.sin(lean) / saw.stroke
    if rod * (1 - k) > offset and np.sqrt((rod + k * rod) ** 2 - offset**2) < saw.room:
        tried = lk.facts(lk.slider_crank(k * rod, rod, offset))
        worst = np.arcsin((k * rod + offset) / rod)
        if worst < best and abs(tried.stroke - saw.stroke) < 1e-6:
            best, found = worst, (k * rod, rod, offset)
new_saw = {row: (length, "m") for row, length in zip(new_saw, found)}"""

NEW_SAW = Question(
    id="new_saw",
    concept="12-brief",
    version=1,
    setting="ice-saw",
    title="A slider-crank for a stroke and a quick return",
    marks=5,
    ask="Choose crank, rod and offset so that the blade has your stroke and time ratio, within the limits of "
        "the table.",
    kind=Designed(
        rows=("crank OA", "rod AB", "offset"), units=("mm",) * 3, brief=SAW_BRIEF, any_sign=("offset",),
        told="Stroke within 1 %, time ratio within 0.01; half of the marks each. Each limit that is passed costs a "
             "quarter.",
    ),
    answer=saw_right,
    by_hand=saw_by_hand,
    model=SAW_MODEL,
    misconceptions=(
        Misconception("offset-on-the-other-side", saw_other_side, "With the slide on this side of O it is the way "
                                                                  "out that is slow.", 0.5),
        Misconception("stroke-is-twice-the-crank", saw_plain_stroke, "The stroke is twice the crank only without an "
                                                                     "offset. Take it from the two dead centres.", 0.5),
    ),
    hint="Draw the triangle of O and the two dead centres: rod + crank, rod − crank, α between them, the stroke "
         "opposite.",
)  # fmt: skip

SETTINGS = (SHAKER, SAW)
QUESTIONS = (NEW_SHAKER, NEW_SAW)
