"""Choosing a four-bar that carries a body: what such a four-bar does, and a hatch cover in two poses.

The worked solution puts each fixed pin on the perpendicular bisector of the two places of its moving pin (any text on
synthesis).
"""

from __future__ import annotations

import numpy as np

from ...builders import four_bar
from ...dyads import cross, rrr, square
from ..designed import Aim, Brief, Defect, Designed, Limit, degrees, distinct, mm, posed
from ..givens import Given, Setting
from ..question import Misconception, Question, Worked
from .choosing_a_function import FEW, STEPS, row, wrapped
from .choosing_dimensions import CARE, DEG, folded

APART = 0.06  # metres between the two fixed pins, for their bearings
REACH, DEPTH = 0.6, 0.6  # metres of room to each side of the cover and below it
ROOM = (
    "There is room for the fixed pins to 600 mm below the flat cover (y from −600 to 0 mm) and to 600 mm beyond its "
    "ends (x from −600 mm to the "
    "width and 600 mm more); they lie at least 60 mm apart."
)


def carried(pins, pivots, poses, steps=STEPS):
    """What becomes of a body that is carried by two bars.

    Parameters
    ----------
    pins, pivots : pairs of complex arrays
        A and B on the body in its first pose, O and Q in the frame.
    poses : pair of complex and float arrays, their last axis the poses
        Where the body's marked point should be and how far it should be turned; the first pose is 0 and 0.
    """
    (a, b), (o, q), (places, turns) = pins, pivots, poses
    a, b, o, q = (z[..., None] for z in (a, b, o, q))
    wanted_a, wanted_b = (places + z * np.exp(1j * turns) for z in (a, b))
    stops = np.angle((wanted_a - o) / (a - o))
    last = stops[..., -1:]
    in_order = ((stops[..., 1:] * np.sign(last) >= 0) & (np.abs(stops[..., 1:]) <= np.abs(last))).all(axis=-1)
    way = np.concatenate([stops, steps * last], axis=-1)
    crank = o + (a - o) * np.exp(1j * way)
    side = np.sign(cross(q - a, b - a))
    joint = rrr(crank, q, square(b - a), square(b - q), side)
    turned = np.angle((joint - crank) / (b - a))
    marked = crank - a * np.exp(1j * turned)
    count = stops.shape[-1]
    return {
        "place_off": np.abs(marked[..., 1:count] - places[..., 1:]),
        "turn_off": np.abs(wrapped(turned[..., 1:count] - turns[..., 1:])),
        "holds": np.isfinite(joint.real).all(axis=-1),
        "same_side": (np.sign(cross(q - wanted_a, wanted_b - wanted_a)) == side).all(axis=-1),
        "in_order": in_order,
        "transmission": folded(np.abs(np.angle((crank - joint) / (q - joint)))).min(axis=-1),
        "apart": np.abs(o - q)[..., 0],
        "pins_apart": np.abs(a - b)[..., 0],
        "arms": np.minimum(np.abs(a - o), np.abs(b - q))[..., 0],
        "left": np.minimum(o.real, q.real)[..., 0],
        "right": np.maximum(o.real, q.real)[..., 0],
        "low": np.minimum(o.imag, q.imag)[..., 0],
        "high": np.maximum(o.imag, q.imag)[..., 0],
    }


def aims(count):
    """Place and turn at each pose after the first."""
    found = []
    for k in range(count - 1):
        found += [
            Aim(1, lambda s, g, k=k: s["place_off"][..., k], 2e-3, 15e-3,
                lambda s, g, k=k: f"In pose {k + 2} the corner C of the cover is {mm(s['place_off'][k])} from "
                                  "its place."),
            Aim(1, lambda s, g, k=k: s["turn_off"][..., k], 0.5 * DEG, 5 * DEG,
                lambda s, g, k=k: f"In pose {k + 2} the cover's direction is {degrees(s['turn_off'][k])} off."),
        ]  # fmt: skip
    return tuple(found)


def beyond(s, width):
    """By how much a fixed pin is outside its room, metres."""
    sides = -s["left"] - REACH, s["right"] - REACH - width, s["high"], -DEPTH - s["low"]
    return np.max(np.broadcast_arrays(*sides), axis=0)


LIMITS = (
    Limit(0.25, lambda s, g: g.least - s["transmission"], 0.7 * DEG,
          lambda s, g: f"The transmission angle is too small: it falls to {degrees(s['transmission'], g.least)}, and the brief "
                       f"allows no less than {g.least_deg}."),
    Limit(0.25, lambda s, g: beyond(s, g.width), 1e-3, lambda s, g: "It is too large for the space: a fixed pin "
                                                                    f"lies {mm(beyond(s, g.width))} outside its room."),
)  # fmt: skip
DEFECTS = (
    Defect(lambda s, g: ~(s["apart"] >= APART), lambda s, g: "The two fixed pins lie less than 60 mm apart: there "
                                                             "is no room for their bearings."),
    Defect(lambda s, g: ~((s["arms"] > 0.02) & (s["pins_apart"] > 0.02)), lambda s, g: "A link is shorter than 20 "
                                                                                       "mm: there is no room for "
                                                                                       "its two pins."),
    Defect(lambda s, g: ~s["in_order"], lambda s, g: "The poses are passed in another order than asked, or only by "
                                                     "turning the crank the long way round (an order defect)."),
    Defect(lambda s, g: ~s["same_side"], lambda s, g: "In one of the poses the cover would have to be on the other "
                                                      "side of the line from A to Q: it cannot "
                                                     "get there without being taken apart or passing a dead centre "
                                                     "(a circuit or branch defect)."),
    Defect(lambda s, g: ~s["holds"], lambda s, g: "On the way the linkage comes apart: cover and second bar no "
                                                  "longer reach each other (a branch defect)."),
)  # fmt: skip


# --- two poses -------------------------------------------------------------------------------------------------------


def two_poses(g):
    """Places and turns of the cover."""
    return row(0j, g.over + 1j * g.up), row(0.0, g.turned)


def two_does(g, values):
    """The cover's own pins are given: A in its corner, B at its other end."""
    x = values
    return carried(
        (0j * x[..., 0], 0j * x[..., 0] + g.width),
        (x[..., 0] + 1j * x[..., 1], x[..., 2] + 1j * x[..., 3]),
        two_poses(g),
    )


TWO_BRIEF = Brief(look=two_does, aims=aims(2), limits=LIMITS, defects=DEFECTS)
OUT = np.linspace(-0.7, 0.7, 9)  # metres along a bisector


def bisector(first, second, out):
    """The points of a perpendicular bisector at the distances `out` from its middle."""
    along = second - first
    return (first + second) / 2 + 1j * along / np.abs(along) * out


def two_pivots(width, over, up, turned):
    """The best of many pairs of pivots; rows of x and y of O and Q."""
    places = over + 1j * up, over + 1j * up + width * np.exp(1j * turned)
    spots = np.stack(np.meshgrid(OUT, OUT), axis=-1).reshape(-1, 2)
    o, q = (
        bisector(first[:, None], place[:, None], spots[:, k])
        for k, (first, place) in enumerate(zip((0j * width, width + 0j), places, strict=True))
    )
    return best(
        np.zeros_like(o),
        np.zeros_like(o) + width[:, None],
        o,
        q,
        (row(0j, places[0])[:, None], row(0.0, turned)[:, None]),
        width,
    )


def best(a, b, o, q, poses, width):
    """The pivots (and pins) whose transmission angle is best, of those that work and lie in their room; a row each."""
    with np.errstate(all="ignore"):
        seen = carried((a, b), (o, q), poses, FEW)
        works = (
            seen["holds"]
            & seen["same_side"]
            & seen["in_order"]
            & (seen["apart"] > 1.02 * APART)
            & (seen["arms"] > 0.04)
        )
        good = np.where(works & (beyond(seen, width[:, None]) < -2e-3), seen["transmission"], -1.0)
    pick = np.arange(len(o)), good.argmax(axis=1)
    return np.stack([part for z in (a, b, o, q) for part in (z[pick].real, z[pick].imag)], axis=-1)


def two_right(g):
    """A solution."""
    return distinct(two_pivots, g.width, g.over, g.up, g.turned)[..., 4:]


def two_exchanged(g):
    """The fixed pin of each moving pin taken for the other."""
    return two_right(g)[..., [2, 3, 0, 1]]


def two_by_hand(g):
    """Middle and slope of each bisector, then a step along it."""
    found = two_right(g)
    lines, value = [], []
    for name, first, place, k in (
        ("A", 0j, g.over + 1j * g.up, 0),
        ("B", g.width, g.over + 1j * g.up + g.width * np.exp(1j * g.turned), 2),
    ):
        middle, slope = (first + place) / 2, -(place - first).real / (place - first).imag
        x = found[k]
        value += [x, middle.imag + slope * (x - middle.real)]
        lines.append(
            f"{name} goes from ({1000 * np.real(first):.1f}, {1000 * np.imag(first):.1f}) to "
            f"({1000 * place.real:.1f}, {1000 * place.imag:.1f}) mm. The bisector goes "
            f"through ({1000 * middle.real:.1f}, {1000 * middle.imag:.1f}) mm with the slope {slope:.4f}. On it, at "
            f"x = {1000 * x:.1f} mm, y is {1000 * value[-1]:.1f} mm."
        )  # fmt: skip
    return Worked(
        (
            *lines,
            "Many pairs of such points do; this one keeps to one side and has the best transmission angle of "
            "those tried.",
        ),
        np.array(value),
    )


STORY = f"""The cover of a cargo hatch is carried by two bars, OA and QB, and OA is turned by hand. The table gives
its poses. In
the first the cover lies flat: its corner C is the origin, and it reaches along the x axis to its width. C then goes
to the places of the table, and the
cover turns anticlockwise by the angles there. {ROOM} {CARE}"""
ROOM_GIVENS = (Given("least_deg", "transmission angle on the way, never below", tuple(range(20, 36))),)
TWO = Setting(
    id="first-hatch",
    version=1,
    title="A hatch cover, from shut to open",
    story=STORY + "\n\nA is welded on in the corner C, and B at the other end of the cover.",
    givens=(
        Given("width_mm", "width of the cover, C to its other end", tuple(range(200, 420, 40))),
        Given("over_mm", "second pose: C to x =", tuple(range(-520, -190, 30))),
        Given("up_mm", "second pose: C to y =", tuple(range(20, 170, 30))),
        Given("turned_deg", "second pose: turned by", tuple(range(10, 45, 5))),
        *ROOM_GIVENS,
    ),
    fits=lambda g: posed(TWO_BRIEF, g, two_right, (two_exchanged, 0.0)),
    machine=lambda g: hatch(*two_pins(g), *(two_right(g)[k] + 1j * two_right(g)[k + 1] for k in (0, 2))),
)


def two_pins(g):
    """The cover's pins."""
    return 0j, g.width + 0j


def hatch(a, b, o, q):
    """The four-bar with these pins, in a frame of its own."""
    circuit = "open" if cross(q - a, b - a) > 0 else "crossed"
    return four_bar(abs(q - o), abs(a - o), abs(b - a), abs(b - q), circuit)


TWO_MODEL = """places = np.array([0, hatch.over + 1j * hatch.up])
ends = places + hatch.width * np.exp(1j * np.array([0, hatch.turned]))
best, found, near = 0, None, np.zeros(2)
tries = np.array([(u, v) for u in np.linspace(-1, 1, 31) for v in np.linspace(-1, 1, 31)])
for reach in (0.7, 0.2, 0.05, 0.012):
    for out_o, out_q in near + reach * tries:
        O, Q = (pair.mean() + 1j * out * np.diff(pair)[0] / abs(np.diff(pair)[0]) for pair, out in ((places, out_o), (ends, out_q)))
        inside = all(-0.6 < z.real < hatch.width + 0.6 and -0.6 < z.imag < 0 for z in (O, Q))
        sides = np.sign(((ends - places) / (Q - places)).imag)
        if not inside or abs(O - Q) < 0.061 or sides[0] != sides[1]:
            continue
        turn = np.angle((places[1] - O) / (places[0] - O)) * np.linspace(0, 1, 21)
        crank = O + (places[0] - O) * np.exp(1j * turn)
        d, arm = np.abs(Q - crank), abs(ends[0] - Q)
        cosine = (hatch.width**2 + arm**2 - d**2) / (2 * hatch.width * arm)
        least = 0 if np.any(np.abs(cosine) > 1) else np.pi / 2 - np.max(np.abs(np.pi / 2 - np.arccos(cosine)))
        if least > best:
            best, found, around = least, (O.real, O.imag, Q.real, Q.imag), np.array([out_o, out_q])
    near = around
{name} = dict(zip({name}, ((x, "m") for x in found)))"""

FIRST_HATCH = Question(
    id="two_poses",
    concept="12-guidance",
    version=1,
    setting="first-hatch",
    title="Two poses of a cover",
    marks=5,
    ask="Choose the fixed pins O (of the bar OA) and Q (of the bar QB), so that the bars carry the cover from the "
        "first pose into the second.",
    kind=Designed(
        rows=("O, x", "O, y", "Q, x", "Q, y"), units=("mm",) * 4, any_sign=("O, x", "O, y", "Q, x", "Q, y"), brief=TWO_BRIEF,
        told="The corner within 2 mm and the direction within 0.5 degrees; half of the marks each. Each limit that "
             "is passed costs a quarter.",
    ),
    answer=two_right,
    by_hand=two_by_hand,
    model=TWO_MODEL.replace("{name}", "two_poses"),
    misconceptions=(
        Misconception("pins-exchanged", two_exchanged, "O and Q are exchanged: O has to be at the same distance "
                                                       "from both places of A.", 0.0),
    ),
    hint="Draw A in both poses: O lies on the perpendicular bisector of its two places. The same for B and Q. Then "
         "slide both pins along their "
         "bisectors until all limits are kept.",
)  # fmt: skip

SETTINGS = (TWO,)
QUESTIONS = (FIRST_HATCH,)
