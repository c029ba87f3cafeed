"""Paths of points: more of the rope guide's eye, cognates, and linkages that draw straight lines."""

from __future__ import annotations

import cmath
from math import degrees

import numpy as np

from ..answers import Number
from ..givens import Given, Setting
from ..listed import Positions
from ..question import Misconception, Question, Worked
from ..tolerance import calculated
from .rope_guide import _by_triangle, at

EYE_ACROSS = Question(
    id="eye_across",
    version=1,
    concept="07-point",
    setting="rope-guide",
    title="How far to the right is the eye?",
    marks=3,
    ask="Calculate the x coordinate of P, measured from O, at your crank angle.",
    kind=Number("mm", calculated("mm", size=0.2)),
    answer=lambda g: at(g, "P").real,
    by_hand=lambda g: _eye_by_hand(g),
    model="guide_bars = lk.four_bar(guide.ground, guide.crank, guide.arm, guide.rocker)\n"
    "motion = lk.move(guide_bars, guide.crank_angle)\n"
    'along = np.exp(1j * motion.angle("coupler"))\n'
    'eye_across = ((motion.point("A") + guide.eye * along).real, "m")',
    misconceptions=(
        Misconception("height-instead", lambda g: at(g, "P").imag, "This is the height of P above O, its y.", 1 / 3),
        Misconception("from-the-joint",
                      lambda g: (at(g, "B") + g.eye * (at(g, "B") - at(g, "A")) / g.arm).real,
                      "The length AP was measured from B. It is given from A.", 1 / 3),
        Misconception("other-circuit", lambda g: at(g, "P", "crossed").real,
                      "This is the other circuit, with B on the right of AQ.", 1 / 3),
    ),
    hint="Find A, then the arm's direction from triangle ABQ; P is AP along that direction from A.",
)  # fmt: skip


def _eye_by_hand(g):
    pin, turned, steps = _by_triangle(g, 1)
    eye = pin + g.eye_mm * cmath.exp(1j * turned)
    return Worked((*steps, f"x of P: {pin.real:.2f} + {g.eye_mm} × cos {degrees(turned):.2f}° = {eye.real:.2f} mm."),
                  eye.real / 1000)  # fmt: skip


SIX = np.radians(np.arange(0, 360, 60))
SIX_ROWS = tuple(f"{angle} deg" for angle in range(0, 360, 60))


def six(g, name="P", circuit="open", angles=SIX):
    """The point's height at six crank angles."""
    wide = type(g)({key: np.asarray(value)[..., None] for key, value in g.values.items()})
    return at(wide, name, circuit, angles).imag


def six_by_hand(g):
    """The triangle, six times."""
    heights = []
    for turn in SIX:
        pin = g.crank_mm * cmath.exp(1j * turn)
        to_pivot = g.ground_mm - pin
        cosine = (abs(to_pivot) ** 2 + g.arm_mm**2 - g.rocker_mm**2) / (2 * abs(to_pivot) * g.arm_mm)
        heights.append((pin + g.eye_mm * cmath.exp(1j * (cmath.phase(to_pivot) + np.arccos(cosine)))).imag)
    steps = tuple(f"{row}: {y:.1f} mm" for row, y in zip(SIX_ROWS, heights, strict=True))
    return Worked(
        ("A, the triangle ABQ, then P along the arm, for each crank angle:", *steps), np.array(heights) / 1000
    )


EYE_TABLE = Question(
    id="eye_table",
    version=1,
    concept="07-point",
    setting="rope-guide",
    title="Six points of the path",
    marks=3,
    ask="Calculate the height y of P above O at six crank angles. Your own crank angle of above is not needed here.",
    kind=Positions(SIX_ROWS, "mm", calculated("mm", size=0.2)),
    answer=six,
    by_hand=six_by_hand,
    model="guide_bars = lk.four_bar(guide.ground, guide.crank, guide.arm, guide.rocker)\n"
    "motion = lk.move(guide_bars, np.radians(np.arange(0, 360, 60)))\n"
    'heights = (motion.point("A") + guide.eye * np.exp(1j * motion.angle("coupler"))).imag\n'
    "for row, height in zip(eye_table, heights):\n"
    '    eye_table[row] = (height, "m")',
    misconceptions=(
        Misconception("joint-instead", lambda g: six(g, "B"), "These are the heights of B. The eye P is farther out.", 1 / 3),
        Misconception("other-circuit", lambda g: six(g, circuit="crossed"),
                      "These are points of the other circuit: B belongs on the left as you look from A to Q.", 1 / 3),
        Misconception("clockwise", lambda g: six(g, angles=-SIX),
                      "The crank was turned clockwise: the rows of 60 and 300 degrees are exchanged.", 1 / 3),
    ),
    hint="Do one row with care, then the same for the rest.",
)  # fmt: skip

COGNATES = Setting(
    id="cognate-maker",
    version=1,
    title="Another linkage for the same path",
    story="A four-bar OABQ carries a point P on its coupler, and P draws a path that is wanted; but the pin Q is in the "
    "way. The theorem of Roberts and Chebyshev gives another four-bar, on O and a new fixed pin R, that draws the same "
    "path. Its links are those of the old one, enlarged or reduced in the ratio AP : AB.",
    givens=(
        Given("ground_mm", "fixed link OQ", tuple(range(200, 405, 10))),
        Given("crank_mm", "crank OA", tuple(range(50, 105, 5))),
        Given("coupler_mm", "coupler AB", tuple(range(150, 305, 10))),
        Given("rocker_mm", "rocker QB", tuple(range(150, 305, 10))),
        Given("near_mm", "AP", tuple(range(80, 405, 10))),
        Given("far_mm", "BP", tuple(range(80, 405, 10))),
    ),
    fits=lambda g: (
        (g.near + g.far > 1.1 * g.coupler)
        & (np.abs(g.near - g.far) < 0.9 * g.coupler)
        & (g.crank + g.ground < g.coupler + g.rocker - 0.01)
    ),
)


def cognate(g, length, ratio=None):
    """A length of the other linkage: both linkages and P as complex numbers, the new pins by similar triangles.

    The coupler triangle ABP seen from A is the factor (P - A) / (B - A); each side of the cognate on O is a side of the
    old linkage times that factor (S. Roberts, Proc. London Math. Soc. 7, 1875).
    """
    along = (g.coupler**2 + g.near**2 - g.far**2) / (2 * g.coupler)
    apex = along + 1j * np.sqrt(g.near**2 - along**2)
    return np.abs(length * (apex / g.coupler if ratio is None else ratio))


def _cognate_question(name, title, ask, length, words, slip):
    """One length of the cognate: `length` of givens in metres, `words` for it in the old linkage, one more slip."""

    def by_hand(g):
        old = round(1000 * float(length(g)))
        found = old * g.near_mm / g.coupler_mm
        return Worked(
            (
                f"The ratio is AP : AB = {g.near_mm} / {g.coupler_mm} = {g.near_mm / g.coupler_mm:.4f}.",
                f"{words}: {old} mm, so {old} × {g.near_mm / g.coupler_mm:.4f} = {found:.2f} mm.",
            ),
            found / 1000,
        )

    return Question(
        id=name, version=1, concept="07-cognate", setting="cognate-maker", title=title, marks=2, ask=ask,
        kind=Number("mm", calculated("mm")), answer=lambda g: cognate(g, length(g)), by_hand=by_hand,
        model=f'{name} = ({words_in_code(words)} * maker.near / maker.coupler, "m")',
        misconceptions=(
            Misconception("other-side", lambda g: cognate(g, length(g), g.far / g.coupler),
                          "BP : AB is the ratio of the linkage that stands on Q. On O it is AP : AB.", 1 / 2),
            Misconception("upside-down", lambda g: cognate(g, length(g), g.coupler / g.near),
                          "The ratio is upside down: the new lengths are the old ones times AP / AB.", 1 / 3),
            slip,
        ),
        hint="Which side of the old linkage does this one come from? Take that one times AP : AB.",
    )  # fmt: skip


def words_in_code(words: str) -> str:
    """The name under which a length stands in the notebook."""
    return {"the old fixed link": "maker.ground", "the old crank": "maker.crank", "the old rocker": "maker.rocker"}[
        words
    ]


UNCHANGED = "The new linkage is larger or smaller than the old one in the ratio AP : AB; this is the old length."
COGNATE_GROUND = _cognate_question(
    "cognate_ground", "Where is the new pin?", "How far from O is the new fixed pin R?", lambda g: g.ground,
    "the old fixed link", Misconception("unchanged", lambda g: g.ground + 0 * g.near, UNCHANGED, 1 / 3),
)  # fmt: skip
COGNATE_COUPLER = _cognate_question(
    "cognate_coupler", "The new coupler",
    "How long is the coupler of the new linkage, from pin to pin? It comes from the old crank: crank and coupler change "
    "places.", lambda g: g.crank, "the old crank",
    Misconception("from-the-coupler", lambda g: g.near + 0 * g.crank,
                  "This is AP, the new crank. The new coupler comes from the old crank.", 1 / 3),
)  # fmt: skip
COGNATE_ROCKER = _cognate_question(
    "cognate_rocker", "The new rocker", "How long is the rocker of the new linkage, which swings about R?",
    lambda g: g.rocker, "the old rocker",
    Misconception("unchanged", lambda g: g.rocker + 0 * g.near, UNCHANGED, 1 / 3),
)  # fmt: skip

WATT = Setting(
    id="two-arms",
    version=1,
    title="A line between two arms",
    story="Two arms swing about fixed pins on opposite sides; a short link AB joins their ends, and in the middle of the "
    "motion both arms are level and AB is upright (the straight-line linkage of James Watt, 1784). A point P of the link "
    "moves almost in a straight line if it divides AB in the right ratio.",
    givens=(
        Given("left_mm", "left arm, to A", tuple(range(300, 905, 20))),
        Given("right_mm", "right arm, to B", tuple(range(300, 905, 20))),
        Given("link_mm", "link AB", tuple(range(150, 405, 10))),
    ),
    fits=lambda g: np.abs(g.left - g.right) >= 0.1,
)

WATT_POINT = Question(
    id="watt_point",
    version=1,
    concept="07-line",
    setting="two-arms",
    title="Where must the point be?",
    marks=2,
    ask="How far from A must P be on the link AB?",
    kind=Number("mm", calculated("mm")),
    answer=lambda g: watt_point(g),
    by_hand=lambda g: Worked(
        ("The longer arm bends less aside: P is nearer to it, AP : PB = right arm : left arm.",
         f"AP = {g.link_mm} × {g.right_mm} / ({g.left_mm} + {g.right_mm}) = "
         f"{g.link_mm * g.right_mm / (g.left_mm + g.right_mm):.2f} mm."),
        float(g.link_mm * g.right_mm / (g.left_mm + g.right_mm) / 1000),
    ),
    model='watt_point = (arms.link / (1 + arms.left / arms.right), "m")',
    misconceptions=(
        Misconception("not-inverted", lambda g: g.link * g.left / (g.left + g.right),
                      "The ratio is the wrong way round: the end of the longer arm strays less, so P is nearer to it.",
                      1 / 2),
        Misconception("middle", lambda g: g.link / 2 + 0 * g.left,
                      "The middle is right only if the arms are equally long.", 1 / 3),
        Misconception("share-of-the-arm", lambda g: g.link * g.right / g.left,
                      "AP : PB is as the arms, not AP : AB.", 1 / 3),
    ),
    hint="For a small swing the ends stray aside by the square of the height over twice the arm, to opposite sides.",
)  # fmt: skip


def watt_point(g):
    """AP for which the strays of A and B, as 1/left and 1/right to opposite sides, cancel at P."""
    stray_a, stray_b = 1 / g.left, 1 / g.right
    return g.link * stray_a / (stray_a + stray_b)


CELL = Setting(
    id="line-cell",
    version=1,
    title="An exact straight line",
    story="In the cell of Peaucellier (1864) two equal long bars are pinned to the fixed pin O and to opposite corners of a "
    "rhombus of four equal short bars. The other two corners, P and P′, stay in line with O. When P is led on a circle "
    "through O, P′ moves on an exact straight line.",
    givens=(
        Given("long_mm", "long bars", tuple(range(250, 405, 10))),
        Given("short_mm", "short bars", tuple(range(80, 165, 5))),
        Given("near_mm", "OP now", tuple(range(100, 305, 10))),
    ),
    fits=lambda g: (g.near > g.long - g.short + 0.01) & (g.near < 0.95 * np.sqrt(g.long**2 - g.short**2)),
)


def far_corner(g):
    """OP′ by the two right-angled triangles of the rhombus."""
    middle = (g.near**2 + g.long**2 - g.short**2) / (2 * g.near)
    return 2 * middle - g.near


CELL_REACH = Question(
    id="cell_reach",
    version=1,
    concept="07-line",
    setting="line-cell",
    title="Where is the other corner?",
    marks=2,
    ask="How far from O is P′ in this position?",
    kind=Number("mm", calculated("mm")),
    answer=far_corner,
    by_hand=lambda g: Worked(
        (f"OP × OP′ = long² − short² = {g.long_mm}² − {g.short_mm}² = {g.long_mm**2 - g.short_mm**2} mm².",
         f"OP′ = {g.long_mm**2 - g.short_mm**2} / {g.near_mm} = {(g.long_mm**2 - g.short_mm**2) / g.near_mm:.2f} mm."),
        float((g.long_mm**2 - g.short_mm**2) / g.near_mm / 1000),
    ),
    model='cell_reach = ((cell.long ** 2 - cell.short ** 2) / cell.near, "m")',
    misconceptions=(
        Misconception("sum-of-squares", lambda g: (g.long**2 + g.short**2) / g.near,
                      "The product OP × OP′ is the difference of the squares, not their sum.", 1 / 3),
        Misconception("middle-of-the-rhombus", lambda g: (far_corner(g) + g.near) / 2,
                      "This is the middle of the rhombus. P′ is as far beyond it as P is before it.", 1 / 2),
        Misconception("root", lambda g: np.sqrt(g.long**2 - g.short**2) + 0 * g.near,
                      "That is where P and P′ would meet. The product of the two distances is constant.", 1 / 3),
    ),
    hint="Draw the rhombus with its diagonals; they halve each other at right angles.",
)  # fmt: skip

SETTINGS = (COGNATES, WATT, CELL)
QUESTIONS = (EYE_ACROSS, EYE_TABLE, COGNATE_GROUND, COGNATE_COUPLER, COGNATE_ROCKER, WATT_POINT, CELL_REACH)
