"""Choosing dimensions for three precision points: a gauge whose needle is right at three marks.

The worked solution is Freudenstein's equation (F. Freudenstein, "Approximate synthesis of four-bar linkages", Trans.
ASME
77, 1955).
"""

from __future__ import annotations

import numpy as np

from ...builders import four_bar
from ...dyads import rrr
from ..designed import Aim, Brief, Defect, Designed, Limit, degrees, distinct, mm, posed
from ..givens import Given, Setting
from ..question import Misconception, Question, Worked
from .choosing_dimensions import CARE, DEG, folded

STEPS = np.linspace(0, 1, 17)  # of a motion that is watched
FEW = np.linspace(0, 1, 7)  # while a solution is looked for


def wrapped(angle):
    """An angle between minus and plus half a turn."""
    return np.angle(np.exp(1j * angle))


def row(*numbers):
    """Arrays that broadcast as the last axis of one."""
    return np.stack(np.broadcast_arrays(*numbers), axis=-1)


def gauge_does(g, values):
    """Turn the crank through the range of the gauge, and look at the rocker."""
    stops = row(0 * g.crank_third, g.crank_second, g.crank_third), row(g.rocker_second, g.rocker_third)
    return gauge_moves(np.asarray(g.ground)[..., None], values, *stops, STEPS)


def gauge_moves(ground, values, stops, wanted, steps):
    """The same for lengths and stops of any shape."""
    crank, coupler, rocker, start, zero = (values[..., k : k + 1] for k in range(5))
    turns = np.concatenate([0 * start + stops, 0 * start + steps * stops[..., 2:]], axis=-1)
    pin = crank * np.exp(1j * (start + turns))
    joints = [rrr(pin, ground + 0j, coupler**2, rocker**2, side) for side in (1.0, -1.0)]
    angles = [np.angle(joint - ground) for joint in joints]
    own = np.abs(wrapped(angles[1][..., :1] - zero)) < np.abs(wrapped(angles[0][..., :1] - zero))
    joint, angle, other = (np.where(own, *pair) for pair in (joints[::-1], angles[::-1], angles))
    way = np.diff(np.unwrap(angle[..., 3:]))
    return {
        "closes": np.isfinite(angle[..., 0]),
        "holds": np.isfinite(angle).all(axis=-1),
        "start_off": np.abs(wrapped(angle[..., 0] - zero[..., 0])),
        "missed": np.abs(wrapped(angle[..., 1:3] - angle[..., :1] - wanted)),
        "other": np.abs(wrapped(other[..., 1:3] - angle[..., :1] - wanted)),
        "back": (way.min(axis=-1) < 0) & (way.max(axis=-1) > 0),
        "transmission": folded(np.abs(np.angle((pin - joint) / (ground - joint)))).min(axis=-1),
        "longest": np.maximum(np.maximum(crank, coupler), rocker)[..., 0],
    }


def gauge_aim(k):
    """The second or the third mark."""
    mark = ("second", "third")[k]

    def says(s, g):
        if s["other"][k] < DEG:
            return (
                f"The {mark} mark is met on the other circuit only: the rocker would have to be taken off its pin and put "
                "on again on the other side (a circuit defect)."
            )
        return f"At the {mark} mark your rocker is {degrees(s['missed'][k])} away from where it should be."

    return Aim(1, lambda s, g: s["missed"][..., k], 0.5 * DEG, 4 * DEG, says)


GAUGE_BRIEF = Brief(
    look=gauge_does,
    aims=(gauge_aim(0), gauge_aim(1)),
    limits=(
        Limit(0.25, lambda s, g: g.least - s["transmission"], 0.7 * DEG,
              lambda s, g: f"The transmission angle is too small: it falls to {degrees(s['transmission'], g.least)}, and "
                           "the brief "
                           f"allows no less than {g.least_deg}."),
        Limit(0.25, lambda s, g: s["longest"] - g.room, 1e-3,
              lambda s, g: f"It is too large for the space: the longest link is {mm(s['longest'], g.room)}, and "
                           f"{g.room_mm} mm is "
                           "the most."),
        Limit(0.25, lambda s, g: np.where(s["back"], 1.0, -1.0), 0.0,
              lambda s, g: "On the way your rocker turns back, so it passes its positions more than once (an order "
                           "defect)."),
    ),
    defects=(
        Defect(lambda s, g: ~s["closes"], lambda s, g: "With the crank in its first position these lengths do "
                                                       "not close."),
        Defect(lambda s, g: s["start_off"] > 3 * DEG,
               lambda s, g: "With the crank in its first position your rocker cannot stand where you say: on "
                            "the nearer "
                            f"circuit it is {degrees(s['start_off'])} away from there."),
        Defect(lambda s, g: ~s["holds"], lambda s, g: "On the way from the first to the third position the linkage "
                                                      "comes apart: coupler and rocker no "
                                                     "longer reach each other. The positions lie on two branches."),
    ),
)  # fmt: skip
STARTS = np.stack(np.meshgrid(np.arange(0, 360, 45), np.arange(0, 180, 20)), axis=-1).reshape(-1, 2) * DEG


def freudenstein(crank, rocker):
    """Lengths for a ground of 1 from three pairs of directions: K1 cos ψ − K2 cos φ + K3 = cos(φ − ψ)."""
    p, q, w = np.cos(rocker), np.cos(crank), np.cos(crank - rocker)
    (p1, p2), (q1, q2), (w1, w2) = ([x[..., 0] - x[..., k] for k in (1, 2)] for x in (p, q, w))
    k1, k2 = ((w1 * x2 - w2 * x1) / (p1 * q2 - p2 * q1) for x1, x2 in ((q1, q2), (p1, p2)))
    k3 = w[..., 0] - k1 * p[..., 0] + k2 * q[..., 0]
    a, c = 1 / k1, 1 / k2
    return a, np.sqrt(1 + a**2 + c**2 - 2 * k3 * a * c), c


def gauge_shapes(crank_second, crank_third, rocker_second, rocker_third):
    """The best of many first positions, for a ground of 1; a negative length is the same bar turned round."""
    cranks = STARTS[:, :1] + row(0 * crank_third, crank_second, crank_third)[:, None]
    rockers = STARTS[:, 1:] + row(0 * crank_third, rocker_second, rocker_third)[:, None]
    with np.errstate(all="ignore"):
        a, b, c = freudenstein(cranks, rockers)
        starts = [(STARTS[:, k] + np.pi * (length < 0)) % (2 * np.pi) for k, length in enumerate((a, c))]
        tried = row(abs(a), b, abs(c), *starts)
        seen = gauge_moves(1.0, tried, cranks - cranks[..., :1], (rockers - rockers[..., :1])[..., 1:], FEW)
    small = (tried[..., :3].max(axis=-1) < 3) & (tried[..., :3].min(axis=-1) > 0.2)
    good = small & seen["holds"] & ~seen["back"] & (seen["missed"].max(axis=-1) < 1e-6) & (seen["start_off"] < 1e-6)
    return tried[np.arange(len(tried)), np.where(good, seen["transmission"], -1.0).argmax(axis=1)]


def gauge_lengths(g, sense=1):
    """A solution; with `sense` -1 the rocker turns the other way."""
    found = distinct(gauge_shapes, g.crank_second, g.crank_third, sense * g.rocker_second, sense * g.rocker_third)
    return found * np.concatenate(
        [np.asarray(g.ground)[..., None] * np.ones(3), np.ones((*np.shape(g.ground), 2))], axis=-1
    )


def gauge_right(g):
    """A solution."""
    return gauge_lengths(g)


def gauge_mirrored(g):
    """The rocker turned clockwise."""
    return gauge_lengths(g, -1)


def gauge_by_hand(g):
    """Freudenstein's equation, the three unknowns eliminated by hand."""
    *_, start, zero = gauge_right(g)
    crank = start + np.array([0, g.crank_second, g.crank_third])
    rocker = zero + np.array([0, g.rocker_second, g.rocker_third])
    matrix = np.column_stack([np.cos(rocker), -np.cos(crank), np.ones(3)])
    k1, k2, k3 = np.linalg.solve(matrix, np.cos(crank - rocker))
    a, c = g.ground / k1, g.ground / k2
    b = np.sqrt(g.ground**2 + a**2 + c**2 - 2 * k3 * a * c)
    return Worked(
        (
            f"Choose the first position: crank at {start / DEG:.0f} and rocker at {zero / DEG:.0f} degrees (others "
            "do too; try until "
            "all lengths are handy and the transmission angle is good).",
            "Freudenstein's equation K1 cos ψ − K2 cos φ + K3 = cos(φ − ψ) for the three pairs, subtracted from "
            "the first: "
            f"K1 = {k1:.4f}, K2 = {k2:.4f}, K3 = {k3:.4f}.",
            f"Crank = ground / K1 = {1000 * a:.2f} mm, rocker = ground / K2 = {1000 * c:.2f} mm, and K3 gives the "
            "coupler, "
            f"{1000 * b:.2f} mm.",
        ),
        np.array([abs(a), b, abs(c), start, zero]),
    )  # fmt: skip


GAUGE = Setting(
    id="tide-gauge",
    version=1,
    title="The tide gauge",
    story=f"""A float turns the crank OA of a tide gauge, and the rocker QB turns the needle. Water and depth are not in
proportion, so from the first to the second and to the third mark the crank turns by the angles of the table and the
rocker has to turn
by its own, both anticlockwise. Where they stand at the first mark is yours to choose. O is the origin and Q on the x
axis, OQ to its right. {CARE}""",
    givens=(
        Given("ground_mm", "fixed link OQ", tuple(range(60, 125, 5))),
        Given("crank_second_deg", "crank, first to second mark", (25, 30, 35, 40)),
        Given("crank_third_deg", "crank, first to third mark", tuple(range(60, 95, 5))),
        Given("rocker_second_deg", "rocker, first to second mark", tuple(range(15, 45, 5))),
        Given("rocker_third_deg", "rocker, first to third mark", tuple(range(40, 75, 5))),
        Given("least_deg", "transmission angle on the way, never below", tuple(range(25, 41))),
        Given("room_mm", "no moving link longer than", tuple(range(120, 310, 10))),
    ),
    fits=lambda g: posed(GAUGE_BRIEF, g, gauge_right, (gauge_mirrored, 0.0)),
    machine=lambda g: four_bar(g.ground, *gauge_right(g)[:3]),
)

GAUGE_MODEL = """turned = np.array([0, gauge.crank_second, gauge.crank_third])
shown = np.array([0, gauge.rocker_second, gauge.rocker_third])
best, found, near = 0, None, np.zeros(2)
coarse = [(u, v) for u in range(0, 360, 10) for v in range(0, 180, 10)]
fine = [(u, v) for u in range(-8, 9, 2) for v in range(-8, 9, 2)]
for tries in (coarse, fine):
    for first, zero in near + np.radians(tries):
        crank, rocker = first + turned, zero + shown
        matrix = np.column_stack([np.cos(rocker), -np.cos(crank), np.ones(3)])
        if abs(np.linalg.det(matrix)) < 1e-6:
            continue
        k1, k2, k3 = np.linalg.solve(matrix, np.cos(crank - rocker))
        a, c = gauge.ground / k1, gauge.ground / k2
        b2 = gauge.ground**2 + a**2 + c**2 - 2 * k3 * a * c
        pins, joints = a * np.exp(1j * crank), gauge.ground + c * np.exp(1j * rocker)
        sides = np.sign(((joints - pins) / (gauge.ground - pins)).imag)
        lengths = np.abs([a, np.sqrt(abs(b2)), c])
        if b2 <= 0 or abs(sides.sum()) < 3 or max(lengths) > 0.99 * gauge.room:
            continue
        if 2 * max(gauge.ground, *lengths) >= gauge.ground + sum(lengths):
            continue
        bar = lk.four_bar(gauge.ground, *lengths, circuit="open" if sides[0] > 0 else "crossed")
        start = first + np.pi * (a < 0)
        motion = lk.move(bar, start + np.linspace(0, turned[2], 31))
        arm = motion.angle("rocker") - motion.angle("coupler")
        least = np.min(np.abs((arm + np.pi / 2) % np.pi - np.pi / 2))
        way = np.diff(np.unwrap(motion.angle("rocker")))
        if motion.ok.all() and least > best and (way > 0).all():
            best, found = least, (*((x, "m") for x in lengths), (start, "rad"), (zero + np.pi * (c < 0), "rad"))
            around = np.array([first, zero])
    near = around
new_gauge = dict(zip(new_gauge, found))"""

NEW_GAUGE = Question(
    id="new_gauge",
    concept="12-brief",
    version=1,
    setting="tide-gauge",
    title="A four-bar for three precision points",
    marks=6,
    ask="Choose the three moving links and the directions of crank (O to A) and rocker (Q to B) at the first mark, "
        "so that the needle is "
        "right at all three marks.",
    kind=Designed(
        rows=("crank OA", "coupler AB", "rocker QB", "crank at the first mark", "rocker at the first mark"),
        units=("mm", "mm", "mm", "deg", "deg"), brief=GAUGE_BRIEF,
        any_sign=("crank at the first mark", "rocker at the first mark"),
        told="The rocker within 0.5 degrees at the second and at the third mark; half of the marks each. Each limit "
             "that is passed costs a quarter, and so does a rocker that turns back on the way.",
    ),
    answer=gauge_right,
    by_hand=gauge_by_hand,
    model=GAUGE_MODEL,
    misconceptions=(
        Misconception("rocker-the-other-way", gauge_mirrored, "The rocker's angles were counted clockwise. Both are "
                                                              "counted anticlockwise.", 0.0),
    ),
    hint="Choose both directions at the first mark, then Freudenstein's equation at the three marks gives the "
         "lengths. Try other first directions "
         "until it keeps to one circuit.",
)  # fmt: skip

SETTINGS = (GAUGE,)
QUESTIONS = (NEW_GAUGE,)
