"""Speeds and accelerations of the net shaker and the ice chopper while they run."""

from __future__ import annotations

from math import atan2, cos, degrees, pi, sin, sqrt

import numpy as np

from ...motion import move
from ..answers import Number
from ..givens import Given, Setting, kept
from ..question import Misconception, Question, Worked
from ..tolerance import calculated, stepwise
from .ice_chopper import chopper
from .ice_chopper import fits as chopper_fits
from .net_shaker import bar, by_triangles, fits

SPEEDS = tuple(range(40, 125, 5))
ANGLES = tuple(a for a in range(20, 345, 5) if a % 90)
SHAKER = Setting(
    id="net-shaker-rack",
    version=1,
    title="The net shaker while it runs",
    story="The net shaker runs: its crank OA turns evenly, anticlockwise, about O; the coupler AB drives the rocker QB, which "
    "carries the rack. O is the origin, Q lies to the right on the x axis, and B is on the left as you look from A to Q. "
    "Angles and speeds are positive anticlockwise.\n\n*Keep hands, sleeves and hair away from a real machine of this kind. "
    "Follow the local rules for guards and isolation.*",
    givens=(
        Given("ground_mm", "fixed link OQ", tuple(range(180, 325, 5))),
        Given("crank_mm", "crank OA", tuple(range(50, 125, 5))),
        Given("coupler_mm", "coupler AB", tuple(range(160, 325, 5))),
        Given("rocker_mm", "rocker QB", tuple(range(120, 245, 5))),
        Given("crank_angle_deg", "crank angle", ANGLES),
        Given("speed_rpm", "crank speed", SPEEDS),
    ),
    fits=fits,
    machine=bar,
)
CHOPPER = Setting(
    id="ice-chopper-blade",
    version=1,
    title="The ice chopper while it runs",
    story="The ice chopper runs: its crank OA turns evenly, anticlockwise, about O, the origin; the connecting rod AB drives "
    "the slider at B on a guide parallel to the x axis at y = offset, on the side of +x. Along x to the right is positive, "
    "and anticlockwise is.\n\n*The blade of a real chopper is guarded and locked off before anyone reaches in; follow the "
    "local rules.*",
    givens=(
        Given("crank_mm", "crank OA", tuple(range(80, 145, 5))),
        Given("rod_mm", "connecting rod AB", tuple(range(200, 325, 5))),
        Given("offset_mm", "offset of the guide", tuple(range(30, 105, 5))),
        Given("crank_angle_deg", "crank angle", ANGLES),
        Given("speed_rpm", "crank speed", SPEEDS),
    ),
    fits=chopper_fits,
    machine=chopper,
)


@kept
def shaker(g, angle=None, circuit="open"):
    """The shaker's motion at the given crank angle, or another one."""
    return move(bar(g, circuit), g.crank_angle if angle is None else angle, speed=1.0 * g.speed)


@kept
def blade(g, **other):
    """The chopper's motion at the given crank angle."""
    offset = other.get("offset")
    return move(chopper(g, offset), other.get("angle", g.crank_angle), speed=1.0 * g.speed)


RPM = "{} rev/min is {} × 2π / 60 = {:.4g} rad/s."
NET = "net = lk.four_bar(rack.ground, rack.crank, rack.coupler, rack.rocker)\n" \
      "motion = lk.move(net, rack.crank_angle, speed=rack.speed)\n"  # fmt: skip
BARS = "bars = lk.slider_crank(blade.crank, blade.rod, offset=blade.offset)\n" \
       "motion = lk.move(bars, blade.crank_angle, speed=blade.speed)\n"  # fmt: skip


def rpm_words(g):
    """The speed in rad/s, in words."""
    return RPM.format(g.speed_rpm, g.speed_rpm, g.speed)


PIN_SPEED = Question(
    id="pin_speed",
    version=1,
    concept="08-velocity",
    setting="net-shaker-rack",
    title="How fast is the crank pin?",
    marks=1,
    ask="Calculate the speed of A.",
    kind=Number("m/s", calculated("m/s", size=0.5)),
    answer=lambda g: np.abs(shaker(g).velocity("A")),
    by_hand=lambda g: Worked((rpm_words(g), f"v = {g.speed:.4g} × {g.crank} = {g.speed * g.crank:.4g} m/s."),
                             float(g.speed * g.crank)),
    model=NET + 'pin_speed = (abs(motion.velocity("A")), "m/s")',
    misconceptions=(
        Misconception("turns-for-radians", lambda g: g.speed_rpm / 60 * g.crank,
                      "Revolutions a second were used. One revolution is 2π radians.", 1 / 3),
        Misconception("a-minute", lambda g: 1.0 * g.speed_rpm * g.crank,
                      "The speed in rev/min was taken for radians a second.", 1 / 3),
        Misconception("position-for-velocity", lambda g: g.crank * np.abs(np.cos(g.crank_angle)) * g.speed,
                      "This is one part of the velocity only. The speed of A is the same all the way round: ω × OA.", 1 / 3),
    ),
    hint="Turn the speed into radians a second, then multiply by the radius.",
)  # fmt: skip


def loop_speeds(g):
    """Angular velocities of coupler and rocker by the two velocity equations, with steps."""
    psi, _, joint, _ = by_triangles(g, g.crank_angle)
    pin = g.crank_mm * np.exp(1j * g.crank_angle)
    phi = float(np.angle(joint - pin))
    theta, a, b, c = g.crank_angle, g.crank, g.coupler, g.rocker
    coupler = g.speed * a * sin(psi - theta) / (b * sin(phi - psi))
    rocker = g.speed * a * sin(phi - theta) / (c * sin(phi - psi))
    steps = (
        rpm_words(g),
        f"The coupler points to {degrees(phi):.2f} degrees, the rocker to {degrees(psi):.2f} degrees.",
        f"Velocities square to the rocker's direction and to the coupler's: ω of the coupler is {coupler:.4g} rad/s, "
        f"of the rocker {rocker:.4g} rad/s.",
    )
    return phi, psi, coupler, rocker, steps


ROCKER_SPEED = Question(
    id="rocker_speed",
    version=1,
    concept="08-velocity",
    setting="net-shaker-rack",
    title="How fast does the rocker turn?",
    marks=4,
    ask="Calculate the angular velocity of the rocker, with its sign.",
    kind=Number("rad/s", stepwise(2.0)),
    answer=lambda g: shaker(g).angular_velocity("rocker"),
    by_hand=lambda g: Worked(loop_speeds(g)[4], loop_speeds(g)[3]),
    model=NET + 'rocker_speed = (motion.angular_velocity("rocker"), "rad/s")',
    misconceptions=(
        Misconception("coupler-instead", lambda g: shaker(g).angular_velocity("coupler"),
                      "This is the angular velocity of the coupler.", 1 / 3),
        Misconception("ratio-of-lengths", lambda g: g.speed * g.crank / g.rocker,
                      "A and B were given the same speed. They are on one rod, but only their parts along it are equal.",
                      1 / 4),
        Misconception("crossed", lambda g: shaker(g, circuit="crossed").angular_velocity("rocker"),
                      "This is the crossed circuit: B belongs on the left as you look from A to Q.", 1 / 3),
        Misconception("half", lambda g: shaker(g).angular_velocity("rocker") / 2 / pi,
                      "This is in revolutions a second. One revolution is 2π radians.", 1 / 2),
    ),
    hint="Velocity of A first. Its part along AB equals that of B, and B moves square to QB.",
)  # fmt: skip

COUPLER_SPEED = Question(
    id="coupler_speed",
    version=1,
    concept="08-velocity",
    setting="net-shaker-rack",
    title="How fast does the coupler turn?",
    marks=3,
    ask="Calculate the angular velocity of the coupler, with its sign.",
    kind=Number("rad/s", stepwise(2.0)),
    answer=lambda g: shaker(g).angular_velocity("coupler"),
    by_hand=lambda g: Worked(loop_speeds(g)[4], loop_speeds(g)[2]),
    model=NET + 'coupler_speed = (motion.angular_velocity("coupler"), "rad/s")',
    misconceptions=(
        Misconception("speeds-as-numbers",
                      lambda g: (np.abs(shaker(g).velocity("B")) - np.abs(shaker(g).velocity("A"))) / g.coupler,
                      "The speeds of A and B were subtracted as numbers. Velocities are subtracted as vectors.", 1 / 4),
        Misconception("seen-from-the-crank", lambda g: shaker(g).angular_velocity("coupler") - g.speed,
                      "This is the speed against the crank. It is asked for against the fixed link.", 1 / 2),
        Misconception("against-the-rocker",
                      lambda g: shaker(g).angular_velocity("coupler") - shaker(g).angular_velocity("rocker"),
                      "This is the speed against the rocker. It is asked for against the fixed link.", 1 / 2),
    ),
    hint="The velocity of B less that of A, as vectors, is ω × AB, square to AB.",
)  # fmt: skip


def joint_speed(g, earlier=None):
    """|v_B|, from the student's own rocker speed where there is one."""
    turn = earlier["rocker_speed"] if earlier and "rocker_speed" in earlier else shaker(g).angular_velocity("rocker")
    return np.abs(turn) * g.rocker


JOINT_SPEED = Question(
    id="joint_speed",
    version=1,
    concept="08-velocity",
    setting="net-shaker-rack",
    title="How fast is the rack's pin?",
    marks=2,
    ask="Calculate the speed of B (its size).",
    kind=Number("m/s", stepwise(0.5)),
    answer=joint_speed,
    by_hand=lambda g: Worked((*loop_speeds(g)[4], f"v = {abs(loop_speeds(g)[3]):.4g} × {g.rocker} m/s."),
                             abs(loop_speeds(g)[3]) * g.rocker),
    model=NET + 'joint_speed = (abs(motion.velocity("B")), "m/s")',
    needs=("rocker_speed",),
    admits=lambda g, earlier: 0.05 * g.speed < abs(earlier["rocker_speed"]) < 5 * g.speed,
    misconceptions=(
        Misconception("same-as-the-crank-pin", lambda g: g.speed * g.crank,
                      "This is the speed of A. A and B are on one rod, but move in different directions.", 1 / 4),
        Misconception("distance-from-o", lambda g: np.abs(shaker(g).angular_velocity("rocker") * shaker(g).point("B")),
                      "The rocker turns about Q: multiply by QB, not by OB.", 1 / 3),
        Misconception("coupler-speed", lambda g: np.abs(shaker(g).angular_velocity("coupler")) * g.coupler,
                      "This is the velocity of B against A. Against the fixed link B turns about Q.", 1 / 3),
    ),
    hint="B turns about Q: its speed is the rocker's angular velocity times QB.",
)  # fmt: skip


def rod_state(g):
    """Angle, angular velocity and acceleration of the rod from the height of A, with steps."""
    phi = atan2(g.offset - g.crank * sin(g.crank_angle),
                sqrt(g.rod**2 - (g.offset - g.crank * sin(g.crank_angle)) ** 2))  # fmt: skip
    turn = -g.speed * g.crank * cos(g.crank_angle) / (g.rod * cos(phi))
    speeding = (g.speed**2 * g.crank * sin(g.crank_angle) + turn**2 * g.rod * sin(phi)) / (g.rod * cos(phi))
    steps = (
        rpm_words(g),
        f"The rod points to {degrees(phi):.2f} degrees. The heights of A and B: r sin θ + l sin φ = e.",
        f"Its rate: the rod turns at −ω r cos θ / (l cos φ) = {turn:.4g} rad/s.",
    )
    return phi, turn, speeding, steps


def slider_speed_by_hand(g):
    """x and its rate."""
    phi, turn, _, steps = rod_state(g)
    found = -g.speed * g.crank * sin(g.crank_angle) - turn * g.rod * sin(phi)
    return Worked((*steps, f"v = −ω r sin θ − ω_rod l sin φ = {found:.4g} m/s."), float(found))


def _rod_parallel(g):
    return -g.speed * g.crank * np.sin(g.crank_angle)


SLIDER_SPEED = Question(
    id="slider_speed",
    version=1,
    concept="08-velocity",
    setting="ice-chopper-blade",
    title="How fast is the blade?",
    marks=4,
    ask="Calculate the velocity of the slider along x, with its sign.",
    kind=Number("m/s", stepwise(0.5)),
    answer=lambda g: blade(g).velocity("B").real,
    by_hand=slider_speed_by_hand,
    model=BARS + 'slider_speed = (motion.velocity("B").real, "m/s")',
    misconceptions=(
        Misconception("rod-taken-as-parallel", _rod_parallel,
                      "This is the velocity of A along x. The rod leans, and adds its own part.", 1 / 3),
        Misconception("offset-left-out", lambda g: blade(g, offset=0 * g.offset).velocity("B").real,
                      "The offset was left out.", 1 / 3),
        Misconception("size-of-the-crank-pin", lambda g: g.speed * g.crank,
                      "This is the speed of A. B moves along the guide only.", 1 / 4),
        Misconception("turns-for-radians", lambda g: blade(g).velocity("B").real / 2 / pi,
                      "Revolutions a second were used. One revolution is 2π radians.", 1 / 2),
    ),
    hint="Velocity of A; its part along the rod equals that of B, and B moves along x.",
)  # fmt: skip

SETTINGS = (SHAKER, CHOPPER)
QUESTIONS = (PIN_SPEED, ROCKER_SPEED, COUPLER_SPEED, JOINT_SPEED, SLIDER_SPEED)
