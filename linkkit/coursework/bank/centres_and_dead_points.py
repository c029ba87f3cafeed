"""Instant centres, speeds in limit positions and dead centres, and what the machine gives for what is put in."""

from __future__ import annotations

from math import cos, degrees, sin, sqrt, tan

import numpy as np

from ..answers import Number
from ..givens import Given, Setting
from ..question import Misconception, Question, Worked
from ..tolerance import stepwise
from .net_shaker_limits import limits
from .quay_machines import Whole
from .speeds import BARS, NET, blade, loop_speeds, rpm_words, shaker

LINKS = Setting(
    id="links-and-centres",
    version=1,
    title="How many centres?",
    story="Every two links of a machine have an instant centre, paired with each other or not.",
    givens=(Given("links", "links, the fixed one among them", tuple(range(5, 16))),),
    fits=lambda g: g.links > 3,
)

CENTRE_COUNT = Question(
    id="centre_count",
    version=1,
    concept="08-centres",
    setting="links-and-centres",
    title="Count the instant centres",
    marks=1,
    ask="How many instant centres does it have?",
    kind=Number("", Whole(0.0, 0.01, False, "count")),
    answer=lambda g: g.links * (g.links - 1) / 2.0,
    by_hand=lambda g: Worked(
        (f"Pairs of links: 1 + 2 + … + {g.links - 1} = {sum(range(g.links))}.",), float(sum(range(g.links)))
    ),
    model="centre_count = sum(range(centres.links))",
    misconceptions=(
        Misconception("each-twice", lambda g: g.links * (g.links - 1.0),
                      "Each was counted twice: the centre of links 2 and 3 is that of 3 and 2.", 1 / 2),
        Misconception("square", lambda g: 1.0 * g.links**2, "A link has no centre with itself, and each pair has one only."),
        Misconception("one-a-link", lambda g: 1.0 * g.links,
                      "That is one for each link. There is one for every two links, also if they do not touch."),
    ),
    hint="In how many ways can two links be picked out?",
)  # fmt: skip


def rod_centre(g):
    """y of the centre of rod and fixed link, where OA meets the upright through B."""
    motion = blade(g)
    return (motion.velocity("A") / motion.angular_velocity("rod") * 1j + motion.point("A")).imag


def rod_centre_by_hand(g):
    """The crossing of two lines."""
    rest = sqrt(g.rod**2 - (g.offset - g.crank * sin(g.crank_angle)) ** 2)
    x = g.crank * cos(g.crank_angle) + rest
    found = x * tan(g.crank_angle)
    return Worked((
        "A moves square to OA, so the centre is on the line OA; B moves along x, so it is on the upright through B.",
        f"B is at x = {1000 * x:.2f} mm; the line OA is there at y = {1000 * x:.2f} × tan {g.crank_angle_deg}° = "
        f"{1000 * found:.2f} mm.",
    ), float(found))  # fmt: skip


ROD_CENTRE = Question(
    id="rod_centre",
    version=1,
    concept="08-centres",
    setting="ice-chopper-blade",
    title="The rod's instant centre",
    marks=3,
    ask="Calculate the y coordinate of the instant centre of the connecting rod and the fixed link.",
    kind=Number("mm", stepwise(0.3)),
    answer=rod_centre,
    by_hand=rod_centre_by_hand,
    model=BARS + """turn = motion.angular_velocity("rod")
centre = motion.point("A") + 1j * motion.velocity("A") / turn
rod_centre = (centre.imag, "m")""",
    misconceptions=(
        Misconception("along-the-rod", lambda g: g.offset + 0 * g.crank,
                      "This is the height of the guide. B moves along it, so the centre lies square to it, on the upright "
                      "through B."),
        Misconception("from-the-crank-pin",
                      lambda g: rod_centre(g) - blade(g).point("A").imag,
                      "This is the height above A. It is asked for from O.", 1 / 2),
        Misconception("at-the-crank-pin", lambda g: blade(g).point("A").imag,
                      "This is A. It is the centre of crank and rod, not of rod and fixed link.", 1 / 4),
    ),
    hint="The centre lies square to both velocities: on the line OA, and on the upright through B.",
)  # fmt: skip


def common_centre(g):
    """x of the centre of crank and rocker on the line OQ: the place with one velocity on both."""
    crank, rocker = 1.0 * g.speed, shaker(g).angular_velocity("rocker")
    return g.ground * rocker / (rocker - crank)


def common_by_hand(g):
    """Where the line AB meets the x axis."""
    phi, _, _, _, steps = loop_speeds(g)
    a_x, a_y = g.crank * cos(g.crank_angle), g.crank * sin(g.crank_angle)
    found = a_x - a_y / tan(phi)
    return Worked((
        steps[1],
        f"The centre is where the line AB meets the line OQ: x = {1000 * a_x:.2f} − ({1000 * a_y:.2f}) / tan "
        f"{degrees(phi):.2f}° = {1000 * found:.2f} mm.",
    ), float(found))  # fmt: skip


COMMON_CENTRE = Question(
    id="common_centre",
    version=1,
    concept="08-centres",
    setting="net-shaker-rack",
    title="The centre of crank and rocker",
    marks=3,
    ask="Calculate the x coordinate of the instant centre of crank and rocker, which lies on the line OQ.",
    kind=Number("mm", stepwise(0.3)),
    answer=common_centre,
    by_hand=common_by_hand,
    model=NET + """rocker = motion.angular_velocity("rocker")
common_centre = (rack.ground * rocker / (rocker - rack.speed), "m")""",
    misconceptions=(
        Misconception("from-q", lambda g: common_centre(g) - g.ground,
                      "This is measured from Q. It is asked for from O.", 1 / 2),
        Misconception("centres-exchanged", lambda g: g.ground * g.speed / (g.speed - shaker(g).angular_velocity("rocker")),
                      "The ratio of the speeds is upside down: the centre is nearer to the pin of the faster link.", 1 / 3),
        Misconception("wrong-side",
                      lambda g: g.ground * shaker(g).angular_velocity("rocker")
                      / (shaker(g).angular_velocity("rocker") + g.speed),
                      "The sign of the rocker's speed was lost: if both turn the same way the centre lies outside of OQ.",
                      1 / 3),
    ),
    hint="Three centres of three links lie on a line: for crank, coupler and rocker that is the line AB, and the line OQ.",
)  # fmt: skip


def at_far_limit(g):
    """Angular velocity of the coupler with crank and coupler stretched in line."""
    return shaker(g, limits(g)[0]).angular_velocity("coupler")


def far_by_hand(g):
    """B stands still, so A turns about B as well."""
    found = -g.speed * g.crank / g.coupler
    return Worked((
        rpm_words(g),
        "In the limit position B stands still: for that moment the coupler turns about B.",
        f"A moves at ω r, and is {g.coupler_mm} mm from B, on the other side than O: ω of the coupler = "
        f"−{g.speed:.4g} × {g.crank_mm} / {g.coupler_mm} = {found:.4g} rad/s.",
    ), float(found))  # fmt: skip


COUPLER_AT_LIMIT = Question(
    id="coupler_at_limit",
    version=1,
    concept="08-dead",
    setting="net-shaker-rack",
    title="The coupler in a limit position",
    marks=3,
    ask="In its far limit position (crank and coupler stretched in line) the rocker stands still. Calculate the angular "
    "velocity of the coupler at that moment, with its sign. The crank turns at the speed given; your crank angle is not "
    "needed.",
    kind=Number("rad/s", stepwise(2.0)),
    answer=at_far_limit,
    by_hand=far_by_hand,
    model="net = lk.four_bar(rack.ground, rack.crank, rack.coupler, rack.rocker)\n"
    'far = max(lk.facts(net).limits, key=lambda angle: abs(lk.move(net, angle).point("B")))\n'
    'coupler_at_limit = (lk.move(net, far, speed=rack.speed).angular_velocity("coupler"), "rad/s")',
    misconceptions=(
        Misconception("standing-still", lambda g: 0.0 * g.speed,
                      "The rocker stands still, not the coupler: A still moves at full speed, and B does not.", 1 / 4),
        Misconception("with-the-crank", lambda g: 1.0 * g.speed,
                      "Crank and coupler are in line for a moment only: they do not turn together."),
        Misconception("near-limit", lambda g: shaker(g, limits(g)[1]).angular_velocity("coupler"),
                      "That is the other limit position, with crank and coupler folded: stretched, the coupler turns "
                      "against the crank.", 1 / 2),
        Misconception("about-o", lambda g: -g.speed * g.crank / (g.crank + g.coupler),
                      "A turns about B at the distance AB, not OB.", 1 / 2),
    ),
    hint="B stands still at that moment. So the velocity of A is ω of the coupler times AB.",
)  # fmt: skip


def rod_outstretched(g):
    """Angular velocity of the rod at the outer dead centre."""
    return blade(g, angle=np.arcsin(g.offset / (g.rod + g.crank))).angular_velocity("rod")


ROD_AT_DEAD_CENTRE = Question(
    id="rod_at_dead_centre",
    version=1,
    concept="08-dead",
    setting="ice-chopper-blade",
    title="The rod at the dead centre",
    marks=2,
    ask="Calculate the angular velocity of the connecting rod at the outer dead centre (crank and rod stretched in line), "
    "with its sign. Your crank angle is not needed.",
    kind=Number("rad/s", stepwise(2.0)),
    answer=rod_outstretched,
    by_hand=lambda g: Worked(
        (rpm_words(g), f"B stands still, A moves at ω r: ω of the rod = −{g.speed:.4g} × {g.crank_mm} / {g.rod_mm} = "
         f"{-g.speed * g.crank / g.rod:.4g} rad/s."), float(-g.speed * g.crank / g.rod)),
    model="bars = lk.slider_crank(blade.crank, blade.rod, offset=blade.offset)\n"
    "outer = np.arcsin(blade.offset / (blade.crank + blade.rod))\n"
    'rod_at_dead_centre = (lk.move(bars, outer, speed=blade.speed).angular_velocity("rod"), "rad/s")',
    misconceptions=(
        Misconception("standing-still", lambda g: 0.0 * g.speed,
                      "The slider stands still there, not the rod: A moves at full speed.", 1 / 4),
        Misconception("with-the-crank", lambda g: 1.0 * g.speed,
                      "Crank and rod are in line for a moment only: they do not turn together."),
        Misconception("about-o", lambda g: -g.speed * g.crank / (g.crank + g.rod),
                      "A turns about B at the distance AB, not OB.", 1 / 2),
    ),
    hint="The slider stands still, so the rod turns about B at that moment.",
)  # fmt: skip


def torque_ratio(g, earlier=None):
    """Torque out over torque in, without losses; from the student's own rocker speed where there is one."""
    rocker = earlier["rocker_speed"] if earlier and "rocker_speed" in earlier else shaker(g).angular_velocity("rocker")
    return g.speed / np.abs(rocker)


TORQUE_RATIO = Question(
    id="torque_ratio",
    version=1,
    concept="08-dead",
    setting="net-shaker-rack",
    title="Torque out for torque in",
    marks=2,
    ask="Without losses, how many times larger is the torque on the rocker than the torque on the crank in your position "
    "(the size of the ratio)?",
    kind=Number("", stepwise(1.0)),
    answer=torque_ratio,
    by_hand=lambda g: Worked(
        (*loop_speeds(g)[4], "Power in is power out, so the torques are as the speeds upside down: "
         f"{g.speed:.4g} / {abs(loop_speeds(g)[3]):.4g} = {g.speed / abs(loop_speeds(g)[3]):.4g}."),
        float(g.speed / abs(loop_speeds(g)[3]))),
    model=NET + 'torque_ratio = abs(rack.speed / motion.angular_velocity("rocker"))',
    needs=("rocker_speed",),
    admits=lambda g, earlier: 0.02 * g.speed < abs(earlier["rocker_speed"]) < 5 * g.speed,
    misconceptions=(
        Misconception("upside-down", lambda g: 1 / torque_ratio(g),
                      "The ratio is upside down: what turns more slowly has the larger torque.", 1 / 2),
        Misconception("lengths", lambda g: g.rocker / g.crank,
                      "The lengths alone were compared. The ratio changes with the position: use the speeds.", 1 / 4),
        Misconception("nothing-gained", lambda g: 1.0 + 0 * g.speed, "Power is kept, torque is not.", 0),
    ),
    hint="Power in is power out: torque × angular velocity is the same on both sides.",
)  # fmt: skip

SETTINGS = (LINKS,)
QUESTIONS = (CENTRE_COUNT, ROD_CENTRE, COMMON_CENTRE, COUPLER_AT_LIMIT, ROD_AT_DEAD_CENTRE, TORQUE_RATIO)
