"""Choosing a four-bar that carries a hatch cover through three poses, all four pins the student's.

The worked solution puts each fixed pin at the centre of the circle through the places of its moving pin (any text on
synthesis).
"""

from __future__ import annotations

import numpy as np

from ...dyads import cross, square
from ..designed import Brief, Designed, Limit, distinct, mm, posed
from ..givens import Given, Setting
from ..question import Misconception, Question, Worked
from .choosing_a_function import row
from .choosing_poses import DEFECTS, LIMITS, ROOM_GIVENS, STORY, aims, best, carried, hatch

SPOTS = np.array([0j, -0.03j])  # where a moving pin is tried, from an end of the cover inwards
PAIRS = np.stack(np.meshgrid(np.arange(2), np.arange(2)), axis=-1).reshape(-1, 2)


def three_poses(g):
    """Places and turns of the cover."""
    return row(0j, g.over_half + 1j * g.up_half, g.over + 1j * g.up), row(0.0, g.turned_half, g.turned)


def three_does(g, values):
    """All four pins are the student's."""
    a, b, o, q = (values[..., k] + 1j * values[..., k + 1] for k in (0, 2, 4, 6))
    seen = carried((a, b), (o, q), three_poses(g))
    x, y = np.stack([a.real, b.real]), np.abs(np.stack([a.imag, b.imag]))
    return seen | {"off_cover": np.max([-x, x - g.width, y - 0.05], axis=(0, 1))}


THREE_BRIEF = Brief(
    look=three_does,
    aims=aims(3),
    limits=(
        *LIMITS,
        Limit(
            0.25,
            lambda s, g: s["off_cover"] - 1e-9,
            -1e-8,
            lambda s, g: f"A moving pin lies {mm(s['off_cover'])} off the cover.",
        ),
    ),
    defects=DEFECTS,
)


def centre(places):
    """The centre of the circle through three places, their last axis the poses."""
    first, second, third = (places[..., k] for k in range(3))
    one, two = second - first, third - first
    return first + 1j * (one * square(two) - two * square(one)) / (2 * cross(one, two))


def three_pins(width, over_half, up_half, turned_half, over, up, turned):
    """The best of a few pairs of moving pins."""
    poses = (
        row(0j * width, over_half + 1j * up_half, over + 1j * up)[:, None],
        row(0 * width, turned_half, turned)[:, None],
    )
    a = SPOTS[PAIRS[:, 0]] + 0j * width[:, None]
    b = width[:, None] - SPOTS[PAIRS[:, 1]].conj()
    with np.errstate(all="ignore"):
        o, q = (centre(poses[0] + z[..., None] * np.exp(1j * poses[1])) for z in (a, b))
    return best(a, b, o, q, poses, width)


def three_right(g):
    """A solution."""
    return distinct(three_pins, g.width, g.over_half, g.up_half, g.turned_half, g.over, g.up, g.turned)


def three_exchanged(g):
    """The fixed pin of each moving pin taken for the other."""
    return three_right(g)[..., [0, 1, 2, 3, 6, 7, 4, 5]]


def three_by_hand(g):
    """Two bisectors for each pin, and where they cross."""
    found = three_right(g)
    places, turns = three_poses(g)
    value, lines = list(found[:4]), []
    for name, pin, fixed in (("A", found[0] + 1j * found[1], "O"), ("B", found[2] + 1j * found[3], "Q")):
        z = places + pin * np.exp(1j * turns)
        rows = np.array([[(z[k] - z[0]).real, (z[k] - z[0]).imag] for k in (1, 2)])
        x, y = np.linalg.solve(rows, [(abs(z[k]) ** 2 - abs(z[0]) ** 2) / 2 for k in (1, 2)])
        value += [x, y]
        spots = ", ".join(f"({1000 * p.real:.1f}, {1000 * p.imag:.1f})" for p in z)
        lines.append(
            f"{name} goes through {spots} mm. The bisectors of the first two and of the first and third cross at "
            f"{fixed}, ({1000 * x:.1f}, {1000 * y:.1f}) mm."
        )
    return Worked(
        (
            "Choose A and B on the cover; if the linkage that follows comes apart, or swings a pin over, "
            "choose others.",
            *lines,
        ),
        np.array(value),
    )


THREE = Setting(
    id="second-cover",
    version=1,
    title="A hatch cover that has to clear a stair",
    story=STORY
    + "\n\nOn this one A and B may be anywhere on the cover: x from 0 to its width, y from −50 to 50 mm in its "
    "first pose.",
    givens=(
        Given("width_mm", "width of the cover, C to its other end", tuple(range(200, 420, 40))),
        Given("over_half_mm", "second pose: C to x =", tuple(range(-240, -150, 10))),
        Given("up_half_mm", "second pose: C to y =", tuple(range(60, 130, 10))),
        Given("turned_half_deg", "second pose: turned by", tuple(range(6, 20, 2))),
        Given("over_mm", "third pose: C to x =", tuple(range(-480, -370, 10))),
        Given("up_mm", "third pose: C to y =", tuple(range(30, 120, 10))),
        Given("turned_deg", "third pose: turned by", tuple(range(20, 36, 2))),
        *ROOM_GIVENS,
    ),
    fits=lambda g: (g.turned_deg > g.turned_half_deg) & posed(THREE_BRIEF, g, three_right, (three_exchanged, 0.0)),
    machine=lambda g: hatch(*(three_right(g)[k] + 1j * three_right(g)[k + 1] for k in (0, 2, 4, 6))),
)

THREE_MODEL = """places = np.array([0, cover.over_half + 1j * cover.up_half, cover.over + 1j * cover.up])
turns = np.array([0, cover.turned_half, cover.turned])
def centre(pin):
    z = places + pin * np.exp(1j * turns)
    rows = np.column_stack([(z[1:] - z[0]).real, (z[1:] - z[0]).imag])
    if abs(np.linalg.det(rows)) < 1e-9:
        return None, z
    x, y = np.linalg.solve(rows, (abs(z[1:]) ** 2 - abs(z[0]) ** 2) / 2)
    return x + 1j * y, z
best, found = 0, None
grid = [x + 1j * y for x in np.linspace(0, 0.15, 4) for y in (-0.045, -0.03, 0, 0.03, 0.045)]
for A in grid:
    O, a = centre(A)
    if O is None or not (-0.599 < O.real < cover.width + 0.599 and -0.599 < O.imag < -0.001):
        continue
    stops = np.angle((a - O) / (a[0] - O))
    if not 0 <= stops[1] / stops[2] <= 1:
        continue
    for B in (cover.width - z.conjugate() for z in grid):
        Q, b = centre(B)
        if Q is None or not (-0.599 < Q.real < cover.width + 0.599 and -0.599 < Q.imag < -0.001) or abs(Q - O) < 0.062:
            continue
        sides = np.sign(((b - a) / (Q - a)).imag)
        crank = O + (a[0] - O) * np.exp(1j * stops[2] * np.linspace(0, 1, 31))
        d, arm, rod = abs(Q - crank), abs(b[0] - Q), abs(b[0] - a[0])
        cosine = (rod**2 + arm**2 - d**2) / (2 * rod * arm)
        least = 0 if np.any(np.abs(cosine) > 1) or abs(sides.sum()) < 3 else np.pi / 2 - np.max(np.abs(np.pi / 2 - np.arccos(cosine)))
        if least > best and min(arm, rod, abs(a[0] - O)) > 0.03:
            best, found = least, [part for z in (A, B, O, Q) for part in (z.real, z.imag)]
three_poses = dict(zip(three_poses, ((x, "m") for x in found)))"""

PINS = tuple(f"{pin}, {axis}" for pin in "ABOQ" for axis in "xy")
SECOND_COVER = Question(
    id="three_poses",
    concept="12-guidance",
    version=1,
    setting="second-cover",
    title="Three poses of a cover",
    marks=8,
    ask="Choose the pins A and B of the cover, as they lie in its first pose, and the fixed pins O (of the bar OA) "
        "and Q (of the bar QB), so that the "
        "bars carry the cover through the three poses in their order.",
    kind=Designed(
        rows=PINS, units=("mm",) * 8, any_sign=PINS, brief=THREE_BRIEF,
        told="The corner within 2 mm and the direction within 0.5 degrees in the second and in the third pose; a "
             "quarter of the marks each. Each limit "
             "that is passed costs a quarter.",
    ),
    answer=three_right,
    by_hand=three_by_hand,
    model=THREE_MODEL,
    misconceptions=(
        Misconception("pins-exchanged", three_exchanged, "O and Q are exchanged: O has to be at the same distance "
                                                         "from all places of A.", 0.0),
    ),
    hint="Draw A in all three poses: O is the centre of the circle through its places. The same for B and Q. If "
         "what follows does not work, choose A and B elsewhere.",
)  # fmt: skip

SETTINGS = (THREE,)
QUESTIONS = (SECOND_COVER,)
