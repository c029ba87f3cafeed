"""Choosing dimensions for a path: a straight line over a wanted stroke, and a tray that stays level over a lift.

The worked straight line takes proportions of Hoecken's linkage from a table of R. L. Norton, Design of Machinery
(written
down from memory, and measured here); the tray, the two level positions of a nearly parallel linkage.
"""

from __future__ import annotations

from functools import cache

import numpy as np

from ...builders import four_bar
from ...dyads import rrr
from ...quantity import told_apart
from ..designed import Aim, Brief, Defect, Designed, Limit, degrees, mm, posed
from ..givens import Given, Setting
from ..question import Misconception, Question, Worked
from .choosing_dimensions import BARS, CARE, DEG, folded, part

STRETCH = np.linspace(0, 1, 41)  # of a motion that is watched


# --- a straight line -------------------------------------------------------------------------------------------------


def line_does(g, values):
    """The path of the eye while the crank turns over the stretch that the student names."""
    ground, crank, coupler, rocker, along, across, start, end = (x[..., None] for x in part(values, of=8))
    pin = crank * np.exp(1j * (start + (end - start) * STRETCH))
    joint = rrr(pin, ground + 0j, coupler**2, rocker**2, 1.0)
    eye = pin + (along + 1j * across) * (joint - pin) / coupler
    chord = eye[..., -1:] - eye[..., :1]
    height = np.ptp(((eye - eye[..., :1]) * np.conj(chord) / np.abs(chord)).imag, axis=-1)
    lengths = np.concatenate([ground, crank, coupler, rocker], axis=-1)
    spare = lengths.sum(axis=-1) - 2 * (lengths.min(axis=-1) + lengths.max(axis=-1))
    return {
        "turns": (spare > 0) & (crank[..., 0] <= lengths.min(axis=-1)),
        "stroke": np.abs(chord)[..., 0],
        "height": height,
        "longest": np.maximum(lengths.max(axis=-1), np.abs(along + 1j * across)[..., 0]),
    }


def uneven(s, g):
    """The height of the band in parts of what is allowed, over nine tenths; of a path with the wrong stroke it counts for
    nothing."""
    wrong = np.abs(s["stroke"] / g.stroke - 1) > 0.08
    return np.where(wrong, np.inf, np.maximum(s["height"] / (g.band * g.stroke) - 0.9, 0))


def line_says(s, g):
    """What to say of a path that is not straight enough."""
    if abs(s["stroke"] / g.stroke - 1) > 0.08:
        return "Over so wrong a stroke straightness counts for nothing."
    percent = told_apart(100 * s["height"] / s["stroke"], g.band_percent, digits=3)
    return f"Your path is {mm(s['height'])} high, {percent} % of the stroke; {g.band_percent} % is allowed."


LINE_BRIEF = Brief(
    look=line_does,
    aims=(
        Aim(1, lambda s, g: np.abs(s["stroke"] / g.stroke - 1), 0.01, 0.08,
            lambda s, g: f"Over your stretch the eye goes {mm(s['stroke'], g.stroke)} from end to end; {g.stroke_mm} mm "
                         "are wanted."),
        Aim(1, uneven, 0.15, 3.0, line_says),
    ),
    limits=(
        Limit(0.25, lambda s, g: s["longest"] - g.room, 1e-3,
              lambda s, g: "It is too large for the space: its longest link (or the arm to the eye) is "
                           f"{mm(s['longest'], g.room)}, and {g.room_mm} mm is the most."),
    ),
    defects=(
        Defect(lambda s, g: ~s["turns"], lambda s, g: "Your crank does not turn fully. It has to be the shortest "
                                                      "link, and shortest and longest together "
                                                     "shorter than the other two."),
    ),
)  # fmt: skip
TABLE = np.array(
    [(90, 270, 2.200, 2.800), (110, 250, 2.500, 3.250), (120, 240, 2.625, 3.438)]
)  # crank from, to; ground, coupler


@cache
def shapes() -> tuple:
    """The designs of the table for a stroke of 1 m, and how high their paths are in parts of the stroke."""
    start, end, ground, coupler = TABLE.T
    unit = np.stack(
        [ground, 0 * ground + 1, coupler, coupler, 2 * coupler, 0 * ground, start * DEG, end * DEG], axis=-1
    )
    seen = line_does(None, unit)
    unit[:, :6] /= seen["stroke"][:, None]
    return unit, seen["height"] / seen["stroke"]


def line_right(g):
    """The first row of the table that is straight enough."""
    unit, heights = shapes()
    found = unit[(heights < 0.9 * np.asarray(g.band)[..., None]).argmax(axis=-1)]
    return np.concatenate([found[..., :6] * np.asarray(g.stroke)[..., None], found[..., 6:]], axis=-1)


def line_to_joint(g):
    """The eye put in the joint B."""
    return line_right(g) * np.array([1, 1, 1, 1, 0.5, 1, 1, 1])


def line_half(g):
    """The crank taken as half of the stroke."""
    right = line_right(g)
    scale = (g.stroke / 2 / right[..., 1])[..., None]
    return np.concatenate([right[..., :6] * scale, right[..., 6:]], axis=-1)


def line_by_hand(g):
    """Both ends of the stretch, by triangles."""
    right = line_right(g)
    start, end = right[6:]
    ground, coupler = right[0] / right[1], right[2] / right[1]
    eyes = []
    for angle in (start, end):
        pin = np.exp(1j * angle)
        across = ground - pin
        opened = np.angle(across) + np.arccos(abs(across) / 2 / coupler)
        eyes.append(pin + 2 * coupler * np.exp(1j * opened))
    run = abs(eyes[1] - eyes[0])
    crank = g.stroke / run
    value = np.array([ground * crank, crank, coupler * crank, coupler * crank, 2 * coupler * crank, 0, start, end])
    return Worked(
        (
            f"Proportions from a table: crank 1, fixed link {ground:.3f}, coupler and rocker {coupler:.3f}, the eye "
            "at twice the coupler; the "
            f"stretch from {start / DEG:.0f} to {end / DEG:.0f} degrees.",
            f"With the crank at both ends of it, triangle ABQ (equal sides) gives the eye: it runs {run:.4f} cranks.",
            f"The crank is {g.stroke_mm} / {run:.4f} = {1000 * crank:.2f} mm, and everything else in proportion.",
        ),
        value,
    )  # fmt: skip


LINE = Setting(
    id="new-walk",
    version=1,
    title="A guide for the third rope walk",
    story=f"""A four-bar guides a rope: crank OA, coupler AB, rocker QB (B on the left as you look from A to Q), and
the eye P on the
coupler, so far along AB from A and so far across, to its left. A motor turns the crank. Over a stretch of the
crank's turn, which you choose, the
eye has to run nearly straight; in which direction is all the same. {CARE}""",
    givens=(
        Given("stroke_mm", "stroke wanted, from end to end", tuple(range(200, 510, 10))),
        Given("band_percent", "height of the path, at the most this part of the stroke", tuple(n / 100 for n in range(3, 21))),
        Given("room_mm", "no link, and no eye from A, longer than", tuple(range(400, 1220, 20))),
    ),
    fits=lambda g: posed(LINE_BRIEF, g, line_right, (line_to_joint, 0.0), (line_half, 0.0)),
    machine=lambda g: four_bar(*line_right(g)[:4]).with_point("coupler", "P", line_right(g)[4]),
)  # fmt: skip

LINE_MODEL = """for start, ground, coupler in [(90, 2.2, 2.8), (110, 2.5, 3.25), (120, 2.625, 3.438)]:
    bar = lk.four_bar(ground, 1, coupler, coupler).with_point("coupler", "P", 2 * coupler)
    path = lk.move(bar, np.radians(np.linspace(start, 360 - start, 181))).point("P")
    along = path[-1] - path[0]
    height = np.ptp((path * np.conj(along)).imag) / abs(along)
    crank = walk.stroke / abs(along)
    if height / abs(along) < 0.98 * walk.band:
        break
lengths = crank * np.array([ground, 1, coupler, coupler, 2 * coupler, 0])
found = [(length, "m") for length in lengths] + [(start, "deg"), (360 - start, "deg")]
straight_line = dict(zip(straight_line, found))"""

LINE_ROWS = (*BARS, "P along AB, from A", "P across AB", "crank where the stretch begins", "crank where it ends")
STRAIGHT_LINE = Question(
    id="straight_line",
    concept="12-guidance",
    version=1,
    setting="new-walk",
    title="A straight line",
    marks=6,
    ask="Choose the lengths, the place of the eye, and the stretch of the crank's turn.",
    kind=Designed(
        rows=LINE_ROWS, units=("mm",) * 6 + ("deg",) * 2, any_sign=LINE_ROWS[4:], brief=LINE_BRIEF,
        told="Stroke within 1 %, and the path within the band; half of the marks each. A link that is too long "
             "costs a quarter.",
    ),
    answer=line_right,
    by_hand=line_by_hand,
    model=LINE_MODEL,
    misconceptions=(
        Misconception("eye-in-the-joint", line_to_joint, "This is the path of the joint B, an arc about Q. In this "
                                                         "linkage the eye is twice as far from A.", 0.0),
        Misconception("crank-is-half-the-stroke", line_half, "A stroke of two cranks was assumed, as for a "
                                                             "slider-crank. Measure what the eye really does.", 0.0),
    ),
    hint="Start from published proportions, measure the stroke of a crank of 1, and scale. A shorter stretch is "
         "straighter, and needs longer links.",
)  # fmt: skip


# --- a level tray ----------------------------------------------------------------------------------------------------


def tray_does(g, values):
    """Swing the upper arm up and down by half of the lift, and look at the tray's bracket."""
    upper, lower = (x[..., None] for x in part(values, of=2))
    gap, back, lift = (np.asarray(x)[..., None] for x in (g.gap, g.back, g.lift))
    half = np.arcsin(lift / 2 / upper)
    pin = upper * np.exp(1j * half * (2 * STRETCH - 1))
    pivot = -back - 1j * gap
    joint = rrr(pin, pivot, gap**2, lower**2, 1.0)
    return {
        "rises": np.isfinite(half[..., 0]),
        "holds": np.isfinite(joint.real).all(axis=-1),
        "tilt": np.abs(np.angle((joint - pin) * 1j)).max(axis=-1),
        "transmission": folded(np.abs(np.angle((pin - joint) / (pivot - joint)))).min(axis=-1),
        "longest": np.maximum(upper, lower)[..., 0],
    }


TRAY_BRIEF = Brief(
    look=tray_does,
    aims=(
        Aim(1, lambda s, g: np.maximum(s["tilt"] / g.tilt - 0.9, 0), 0.15, 0.6,
            lambda s, g: f"On the way your tray tilts by up to {told_apart(np.degrees(s['tilt']), g.tilt_deg, digits=2)} degrees; "
                         f"{g.tilt_deg} are allowed."),
    ),
    limits=(
        Limit(0.25, lambda s, g: g.least - s["transmission"], 0.5 * DEG,
              lambda s, g: f"The transmission angle is too small: it falls to {degrees(s['transmission'], g.least)}, and the "
                           f"brief allows no less than {g.least_deg}."),
        Limit(0.25, lambda s, g: s["longest"] - g.room, 1e-3,
              lambda s, g: f"It is too large for the space: the longer arm is {mm(s['longest'], g.room)}, and {g.room_mm} "
                           "mm is the most."),
    ),
    defects=(
        Defect(lambda s, g: ~s["rises"], lambda s, g: "An arm that swings up and down lifts at the most twice its "
                                                      f"own length, and {g.lift_mm} mm are wanted."),
        Defect(lambda s, g: ~s["holds"], lambda s, g: "On the way the linkage comes apart: bracket and lower arm no "
                                                      "longer reach each other."),
    ),
)  # fmt: skip


def tray_right(g):
    """Arms as long as the room allows, level where the tilt in the middle and at the ends is the same."""
    upper = 0.97 * g.room - g.back
    middle = 0.5 * (1 + np.cos(np.arcsin(np.minimum(g.lift / 2 / upper, 1.0))))
    return np.stack([upper, np.sqrt(upper**2 + g.back**2 + 2 * upper * g.back * middle)], axis=-1)


def tray_parallel(g):
    """Both arms alike, as in a parallelogram."""
    return tray_right(g)[..., [0, 0]]


def tray_middle(g):
    """Level in the middle only."""
    upper = tray_right(g)[..., 0]
    return np.stack([upper, upper + g.back], axis=-1)


def tray_by_hand(g):
    """The tray put level at one height, and the lower arm measured there."""
    upper, _ = tray_right(g)
    ends = np.arcsin(g.lift / 2 / upper)
    level = np.arccos((1 + np.cos(ends)) / 2)
    below = upper * np.exp(1j * level) - 1j * g.gap
    lower = abs(below - (-g.back - 1j * g.gap))
    return Worked(
        (
            f"Long arms swing less: take the upper arm {1000 * upper:.2f} mm. For the lift it swings "
            f"{ends / DEG:.2f} degrees up and down.",
            "With the tray level in the middle the error at the ends is twice what it need be. Have it level in "
            "between instead, at "
            f"{level / DEG:.2f} degrees, above and below.",
            f"There B is at ({1000 * below.real:.2f}, {1000 * below.imag:.2f}) mm, and from Q to B is "
            f"{1000 * lower:.2f} mm.",
        ),
        np.array([upper, lower]),
    )  # fmt: skip


TRAY = Setting(
    id="crate-tray",
    version=1,
    title="A tray that stays level",
    story=f"""A tray for crates hangs from a post by two arms. The upper arm OA turns about O, the origin; the lower
one, QB, about Q. The post is worn,
so Q sits lower than O by the gap of the table and further back (towards −x) by the set-back. On the tray's bracket B
is straight below A, by the same gap, when the tray is level. The upper arm
swings as far below the level of O as above it, and so far that A rises by the lift. {CARE}""",
    givens=(
        Given("gap_mm", "gap: Q below O, and B below A", tuple(range(140, 205, 5))),
        Given("back_mm", "set-back of Q", tuple(range(24, 42, 2))),
        Given("lift_mm", "lift wanted", tuple(range(240, 305, 5))),
        Given("tilt_deg", "tilt of the tray, at the most to either side", tuple(np.round(np.arange(0.6, 1.45, 0.02), 2).tolist())),
        Given("least_deg", "transmission angle, never below", tuple(range(30, 46))),
        Given("room_mm", "no arm longer than", tuple(range(280, 350, 5))),
    ),
    fits=lambda g: (g.lift < 1.6 * g.room) & posed(TRAY_BRIEF, g, tray_right, (tray_parallel, 0.0), (tray_middle, 0.0)),
    machine=lambda g: four_bar(abs(g.back + 1j * g.gap), tray_right(g)[0], g.gap, tray_right(g)[1], "open"),
)  # fmt: skip

TRAY_MODEL = """def tilt(upper, lower):
    half = np.arcsin(tray.lift / 2 / upper)
    lean = np.angle(-tray.back - 1j * tray.gap)
    bar = lk.four_bar(abs(tray.back + 1j * tray.gap), upper, tray.gap, lower)
    motion = lk.move(bar, np.linspace(-half, half, 41) - lean)
    turned = motion.angle("coupler") + lean + np.pi / 2
    return np.max(np.abs(np.angle(np.exp(1j * turned)))) if motion.ok.all() else 9
upper = 0.98 * tray.room - tray.back
heights = np.linspace(0, tray.lift / 2, 41)
lowers = [abs(np.sqrt(upper**2 - height**2) + 1j * height + tray.back) for height in heights]
lower = min(lowers, key=lambda length: tilt(upper, length))
level_tray = {"upper arm OA": (upper, "m"), "lower arm QB": (lower, "m")}"""

LEVEL_TRAY = Question(
    id="level_tray",
    concept="12-guidance",
    version=1,
    setting="crate-tray",
    title="A level tray",
    marks=4,
    ask="Choose the two arms so that the tray stays level, within the tilt of the table, over the whole lift.",
    kind=Designed(
        rows=("upper arm OA", "lower arm QB"), units=("mm",) * 2, brief=TRAY_BRIEF,
        told="All marks up to the tilt that is allowed, none from one and a half times that tilt on. Each limit "
             "that is passed costs a quarter.",
    ),
    answer=tray_right,
    by_hand=tray_by_hand,
    model=TRAY_MODEL,
    misconceptions=(
        Misconception("parallelogram", tray_parallel, "Equal arms keep a tray level only if the pins of the post "
                                                      "lie as those of the bracket do. Here Q is set back.", 0.0),
        Misconception("level-in-the-middle-only", tray_middle, "The tray is level in the middle of the lift and "
                                                               "leans one way at both ends. Share the error out.", 0.0),
    ),
    hint="Long arms swing less. Then let the tray be level at two heights, not in the middle, so that the tilt goes "
         "to both sides.",
)  # fmt: skip

SETTINGS = (LINE, TRAY)
QUESTIONS = (STRAIGHT_LINE, LEVEL_TRAY)
