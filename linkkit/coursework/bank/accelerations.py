"""Accelerations of the running net shaker and ice chopper, and the slotted lever with its Coriolis part."""

from __future__ import annotations

from math import atan2, cos, degrees, hypot, sin

import numpy as np

from ..answers import Choice, Number
from ..givens import Given, Setting
from ..question import Misconception, Question, Worked
from ..tolerance import calculated, stepwise
from .quick_returns import lever
from .speeds import BARS, NET, blade, rod_state, rpm_words, shaker

PIN_ACCELERATION = Question(
    id="pin_acceleration",
    version=1,
    concept="09-acceleration",
    setting="net-shaker-rack",
    title="The crank pin",
    marks=1,
    ask="The crank turns evenly. Calculate the size of the acceleration of A.",
    kind=Number("m/s^2", calculated("m/s^2", size=5.0)),
    answer=lambda g: np.abs(shaker(g).acceleration("A")),
    by_hand=lambda g: Worked((rpm_words(g), f"a = ω² r = {g.speed:.4g}² × {g.crank} = {g.speed**2 * g.crank:.4g} m/s²."),
                             float(g.speed**2 * g.crank)),
    model=NET + 'pin_acceleration = (abs(motion.acceleration("A")), "m/s^2")',
    misconceptions=(
        Misconception("none-at-even-speed", lambda g: 0.0 * g.speed,
                      "Even speed of turning is no even velocity: its direction changes all the time.", 0),
        Misconception("speed-for-acceleration", lambda g: g.speed * g.crank,
                      "This is the speed, ω r. The acceleration towards O is ω² r.", 1 / 3),
        Misconception("turns-for-radians", lambda g: (g.speed_rpm / 60) ** 2 * g.crank,
                      "Revolutions a second were used. One revolution is 2π radians.", 1 / 3),
    ),
    hint="It points to O, and its size is ω² times OA.",
)  # fmt: skip


def slider_by_hand(g):
    """The second rate of x."""
    phi, turn, speeding, steps = rod_state(g)
    found = -(g.speed**2) * g.crank * cos(g.crank_angle) - speeding * g.rod * sin(phi) - turn**2 * g.rod * cos(phi)
    more = (f"Its second rate: α of the rod = {speeding:.4g} rad/s².",
            f"a = −ω² r cos θ − α l sin φ − ω_rod² l cos φ = {found:.4g} m/s².")  # fmt: skip
    return Worked((*steps, *more), float(found))


def _without(g, normal=True, turning=True):
    """The slider's acceleration with a part of the rod's left out."""
    motion = blade(g)
    phi, turn, speeding = motion.angle("rod"), motion.angular_velocity("rod"), motion.angular_acceleration("rod")
    parts = normal * turn**2 * np.cos(phi) + turning * speeding * np.sin(phi)
    return motion.acceleration("A").real - g.rod * parts


SLIDER_ACCELERATION = Question(
    id="slider_acceleration",
    version=1,
    concept="09-acceleration",
    setting="ice-chopper-blade",
    title="The blade",
    marks=5,
    ask="The crank turns evenly. Calculate the acceleration of the slider along x, with its sign.",
    kind=Number("m/s^2", stepwise(5.0)),
    answer=lambda g: blade(g).acceleration("B").real,
    by_hand=slider_by_hand,
    model=BARS + 'slider_acceleration = (motion.acceleration("B").real, "m/s^2")',
    misconceptions=(
        Misconception("rod-taken-as-parallel", lambda g: -(g.speed**2) * g.crank * np.cos(g.crank_angle),
                      "This is the acceleration of A along x. The rod leans and turns, and adds its own parts.", 1 / 4),
        Misconception("normal-part-left-out", lambda g: _without(g, normal=False),
                      "The rod's normal part, ω² l from B towards A, was left out.", 1 / 2),
        Misconception("turning-part-left-out", lambda g: _without(g, turning=False),
                      "The rod's α was taken as zero. It turns unevenly though the crank turns evenly.", 1 / 2),
        Misconception("offset-left-out", lambda g: blade(g, offset=0 * g.offset).acceleration("B").real,
                      "The offset was left out.", 1 / 3),
    ),
    hint="Acceleration of A, then of B against A: a normal part ω² l towards A and a tangential part α l.",
)  # fmt: skip

ROD_ACCELERATION = Question(
    id="rod_acceleration",
    version=1,
    concept="09-acceleration",
    setting="ice-chopper-blade",
    title="The connecting rod",
    marks=4,
    ask="The crank turns evenly. Calculate the angular acceleration of the connecting rod, with its sign.",
    kind=Number("rad/s^2", stepwise(10.0)),
    answer=lambda g: blade(g).angular_acceleration("rod"),
    by_hand=lambda g: Worked(
        (*rod_state(g)[3], f"Second rate of r sin θ + l sin φ = e: α = (ω² r sin θ + ω_rod² l sin φ) / (l cos φ) = "
         f"{rod_state(g)[2]:.4g} rad/s²."), float(rod_state(g)[2])),
    model=BARS + 'rod_acceleration = (motion.angular_acceleration("rod"), "rad/s^2")',
    misconceptions=(
        Misconception("none-at-even-speed", lambda g: 0.0 * g.speed,
                      "The crank turns evenly; the rod turns to and fro."),
        Misconception("normal-part-left-out",
                      lambda g: g.speed**2 * g.crank * np.sin(g.crank_angle)
                      / (g.rod * np.cos(blade(g).angle("rod"))),
                      "The rod's own normal part was left out of the heights.", 1 / 2),
        Misconception("sense-reversed", lambda g: -blade(g).angular_acceleration("rod"),
                      "The size is right and the sense is not: anticlockwise is positive.", 1 / 2),
    ),
    hint="Differentiate the heights twice: r sin θ + l sin φ = e.",
)  # fmt: skip

RUNNING = Setting(
    id="shaper-lever",
    version=1,
    title="The slotted lever while it runs",
    story="In the boatshed's shaper the crank OA turns evenly, anticlockwise, about O, the origin; the block on its pin A "
    "slides along a slotted lever that swings about Q, straight below O. The crank angle is measured from +x; "
    "anticlockwise is positive, and along the lever outwards, away from Q.\n\n*A real shaper is guarded and locked off "
    "before anyone reaches under the ram; follow the local rules.*",
    givens=(
        Given("crank_mm", "crank OA", tuple(range(80, 165, 5))),
        Given("ground_mm", "OQ, straight down", tuple(range(240, 405, 5))),
        Given("crank_angle_deg", "crank angle", tuple(a for a in range(20, 345, 5) if a % 90)),
        Given("speed_rpm", "crank speed", tuple(range(40, 125, 5))),
    ),
    fits=lambda g: (g.crank / g.ground >= 0.25) & (g.crank / g.ground <= 0.6),
    machine=lever,
)


def state(g):
    """Length QA, its rate outwards, the lever's angular velocity, and the acceleration of A square to the lever."""
    turned = np.exp(1j * g.crank_angle)
    pin = 1j * g.ground + g.crank * turned
    back = np.abs(pin) / pin
    velocity, pull = 1j * g.speed * g.crank * turned * back, -(g.speed**2) * g.crank * turned * back
    return np.abs(pin), velocity.real, velocity.imag / np.abs(pin), pull.imag


def lever_alpha(g, share=1.0):
    """The lever's angular acceleration, with a share of the Coriolis part."""
    length, out, turn, across = state(g)
    return (across - share * 2 * turn * out) / length


def parts_by_hand(g):
    """The velocity of A in the lever's directions, by the angle between crank and lever."""
    x, y = g.crank_mm * cos(g.crank_angle), g.ground_mm + g.crank_mm * sin(g.crank_angle)
    psi, length = atan2(y, x), hypot(x, y)
    between = g.crank_angle - psi
    v = g.speed * g.crank
    out, turn = -v * sin(between), v * cos(between) / (length / 1000)
    steps = (
        rpm_words(g),
        f"QA = {length:.2f} mm, the lever points to {degrees(psi):.2f} degrees, the crank leads it by "
        f"{degrees(between):.2f} degrees.",
        f"A moves at {v:.4g} m/s; of this {out:.4g} m/s along the lever, and {v * cos(between):.4g} m/s square to it: the "
        f"lever turns at {turn:.4g} rad/s.",
    )
    return length / 1000, out, turn, between, steps


MODEL = """pins = {"O": 0j, "A": lever.crank + 0j, "Q": -1j * lever.ground}
links = {"frame": ("O", "Q"), "crank": ("O", "A"), "block": ("A",), "lever": ("Q",)}
way = (pins["A"] - pins["Q"]) / abs(pins["A"] - pins["Q"])
slot = lk.Slide("slot", "block", "lever", pins["Q"], way)
shaper = lk.Linkage(pins, links, "frame", (slot,), (lk.Input("crank", "angle", "O", ("frame", "crank")),))
motion = lk.move(shaper, lever.crank_angle, speed=lever.speed)
"""
LEVER_SPEED = Question(
    id="lever_speed",
    version=1,
    concept="09-coriolis",
    setting="shaper-lever",
    title="How fast does the lever turn?",
    marks=3,
    ask="Calculate the angular velocity of the lever, with its sign.",
    kind=Number("rad/s", stepwise(2.0)),
    answer=lambda g: state(g)[2],
    by_hand=lambda g: Worked(parts_by_hand(g)[4], float(parts_by_hand(g)[2])),
    model=MODEL + 'lever_speed = (motion.angular_velocity("lever"), "rad/s")',
    misconceptions=(
        Misconception("all-of-the-velocity", lambda g: g.speed * g.crank / state(g)[0],
                      "The whole velocity of A was divided by QA. A part of it is along the lever: the block slides.", 1 / 3),
        Misconception("same-as-the-crank", lambda g: 1.0 * g.speed,
                      "The block slides in the lever: crank and lever do not turn together."),
        Misconception("sliding-part", lambda g: state(g)[1] / state(g)[0],
                      "The part along the lever was used. It is the part square to it that turns the lever.", 1 / 3),
    ),
    hint="Split the velocity of A into a part along the lever and one square to it; the second turns the lever.",
)  # fmt: skip

BLOCK_SPEED = Question(
    id="block_speed",
    version=1,
    concept="09-coriolis",
    setting="shaper-lever",
    title="How fast does the block slide?",
    marks=3,
    ask="Calculate the velocity of the block along the lever, outwards positive.",
    kind=Number("m/s", stepwise(0.5)),
    answer=lambda g: state(g)[1],
    by_hand=lambda g: Worked(parts_by_hand(g)[4], float(parts_by_hand(g)[1])),
    model=MODEL + 'block_speed = (lk.sliding(motion, "slot").speed, "m/s")',
    misconceptions=(
        Misconception("across-instead", lambda g: state(g)[2] * state(g)[0],
                      "This is the part square to the lever. The block slides by the part along it.", 1 / 3),
        Misconception("all-of-the-velocity", lambda g: g.speed * g.crank,
                      "This is the whole speed of A. Only the part along the lever is sliding.", 1 / 3),
        Misconception("inwards-positive", lambda g: -state(g)[1],
                      "The size is right and the sign is not: away from Q is positive.", 1 / 2),
    ),
    hint="The part of the velocity of A along the lever.",
)  # fmt: skip


def coriolis(g, earlier=None):
    """2 ω v; from the student's own speeds where there are such."""
    _, out, turn, _ = state(g)
    if earlier:
        out, turn = earlier["block_speed"], earlier["lever_speed"]
    return np.abs(2 * turn * out)


CORIOLIS = Question(
    id="coriolis",
    version=1,
    concept="09-coriolis",
    setting="shaper-lever",
    title="The Coriolis part",
    marks=2,
    ask="Calculate the size of the Coriolis part of the block's acceleration.",
    kind=Number("m/s^2", stepwise(2.0)),
    answer=coriolis,
    by_hand=lambda g: Worked(
        (*parts_by_hand(g)[4], f"2 ω v = 2 × {abs(parts_by_hand(g)[2]):.4g} × {abs(parts_by_hand(g)[1]):.4g} m/s²."),
        float(abs(2 * parts_by_hand(g)[2] * parts_by_hand(g)[1]))),
    model=MODEL + 'coriolis = (abs(lk.sliding(motion, "slot").coriolis), "m/s^2")',
    needs=("lever_speed", "block_speed"),
    admits=lambda g, earlier: abs(earlier["block_speed"]) > 0.02 * g.speed * g.crank
    and 0.02 * g.speed < abs(earlier["lever_speed"]) < 5 * g.speed,
    misconceptions=(
        Misconception("factor-two-left-out", lambda g: coriolis(g) / 2,
                      "The factor 2 is missing: one ω v comes from the turning direction, one from the changing radius.",
                      1 / 2),
        Misconception("crank-speed", lambda g: np.abs(2 * g.speed * state(g)[1]),
                      "The block slides in the lever: take the lever's angular velocity, not the crank's.", 1 / 2),
        Misconception("whole-velocity", lambda g: np.abs(2 * state(g)[2] * g.speed * g.crank),
                      "Take the velocity along the lever, not the whole velocity of A.", 1 / 2),
        Misconception("normal-part", lambda g: state(g)[2] ** 2 * state(g)[0],
                      "This is the normal part, ω² QA. The Coriolis part is 2 ω v.", 1 / 3),
    ),
    hint="2 ω v, with the lever's angular velocity and the block's velocity along it.",
)  # fmt: skip

SIDES = ("to the left, seen along the lever outwards", "to the right, seen along the lever outwards", "along the lever")


def side(g):
    """Where it points: i ω v along the lever."""
    return np.where(state(g)[1] * state(g)[2] > 0, SIDES[0], SIDES[1])[()]


def side_by_hand(g):
    """Turn the sliding velocity by a right angle the way the lever turns."""
    _, out, turn, _, steps = parts_by_hand(g)
    found = SIDES[0] if (out > 0) == (turn > 0) else SIDES[1]
    return Worked(
        (*steps, f"The sliding velocity, turned by a right angle in the lever's sense, points {found}."), found
    )


CORIOLIS_SIDE = Question(
    id="coriolis_side",
    version=1,
    concept="09-coriolis",
    setting="shaper-lever",
    title="Where does it point?",
    marks=1,
    ask="Where does the Coriolis part of the block's acceleration point?",
    kind=Choice(SIDES),
    answer=side,
    by_hand=side_by_hand,
    model=MODEL + """found = lk.sliding(motion, "slot")
to_the_left = (found.coriolis / found.along).imag > 0
coriolis_side = f"to the {'left' if to_the_left else 'right'}, seen along the lever outwards\"""",
    misconceptions=(
        Misconception("reversed", lambda g: np.where(side(g) == SIDES[0], SIDES[1], SIDES[0])[()],
                      "It is the other side: turn the sliding velocity by a right angle in the sense in which the lever "
                      "turns."),
        Misconception("along", lambda g: np.where(g.speed > 0, SIDES[2], "")[()],
                      "Along the lever are the normal part and the sliding's own acceleration. The Coriolis part is square "
                      "to it."),
    ),
    hint="Turn the sliding velocity by a right angle, the way in which the lever turns.",
)  # fmt: skip


def alpha_by_hand(g):
    """The acceleration of A square to the lever, less the Coriolis part, over QA."""
    length, out, turn, between, steps = parts_by_hand(g)
    across = -(g.speed**2) * g.crank * sin(between)
    found = (across - 2 * turn * out) / length
    more = (f"A is pulled to O with ω² r; square to the lever that is {across:.4g} m/s². Of this 2 ω v = "
            f"{2 * turn * out:.4g} m/s² is the Coriolis part; the rest is α × QA: α = {found:.4g} rad/s².",)  # fmt: skip
    return Worked((*steps, *more), float(found))


LEVER_ACCELERATION = Question(
    id="lever_acceleration",
    version=1,
    concept="09-coriolis",
    setting="shaper-lever",
    title="The lever's angular acceleration",
    marks=4,
    ask="Calculate the angular acceleration of the lever, with its sign.",
    kind=Number("rad/s^2", stepwise(10.0)),
    answer=lever_alpha,
    by_hand=alpha_by_hand,
    model=MODEL + 'lever_acceleration = (motion.angular_acceleration("lever"), "rad/s^2")',
    misconceptions=(
        Misconception("coriolis-left-out", lambda g: lever_alpha(g, 0.0),
                      "The Coriolis part was left out: the block slides in a lever that turns.", 1 / 2),
        Misconception("coriolis-reversed", lambda g: lever_alpha(g, -1.0),
                      "The Coriolis part has the wrong sign.", 1 / 2),
        Misconception("factor-two-left-out", lambda g: lever_alpha(g, 0.5),
                      "The Coriolis part is 2 ω v: the factor 2 is missing.", 1 / 2),
        Misconception("none-at-even-speed", lambda g: 0.0 * g.speed, "The crank turns evenly, the lever does not."),
    ),
    hint="Square to the lever: the pull of A towards O is α × QA and the Coriolis part together.",
)  # fmt: skip

SETTINGS = (RUNNING,)
QUESTIONS = (
    PIN_ACCELERATION, SLIDER_ACCELERATION, ROD_ACCELERATION, LEVER_SPEED, BLOCK_SPEED, CORIOLIS, CORIOLIS_SIDE,
    LEVER_ACCELERATION,
)  # fmt: skip
