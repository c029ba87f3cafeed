"""Forces: the loaded ice chopper at rest and at speed, balance and flywheel."""

from __future__ import annotations

from math import atan2, cos, degrees, sin, sqrt, tan

import numpy as np

from ...forces import forces
from ...masses import Mass
from ...motion import move
from ..answers import Number
from ..givens import Given, Setting, kept
from ..question import Misconception, Question, Worked
from ..tolerance import calculated, stepwise
from .ice_chopper import chopper
from .ice_chopper import fits as chopper_fits

CAUTION = (
    "\n\n*What is worked out here is for learning. A real machine needs a margin of safety, guards and the judgement of a "
    "qualified engineer under the local codes, and is locked off before anyone reaches in.*"
)
LOADED = Setting(
    id="ice-chopper-loaded",
    version=1,
    title="The ice chopper under load",
    story="The ice chopper's crank OA turns evenly, anticlockwise, about O; the rod AB drives the blade at B along a guide "
    "parallel to the x axis at y = offset, on the side of +x. The ice pushes the blade back towards −x with the force "
    "below. Only the blade has a mass worth counting, and there is no friction. To the right, upwards and anticlockwise "
    "are positive." + CAUTION,
    givens=(
        Given("crank_mm", "crank OA", tuple(range(80, 145, 5))),
        Given("rod_mm", "connecting rod AB", tuple(range(200, 325, 5))),
        Given("offset_mm", "offset of the guide", tuple(range(20, 85, 5))),
        Given("crank_angle_deg", "crank angle", tuple(a for a in range(20, 345, 5) if a % 90)),
        Given("load_newton", "force of the ice", tuple(range(200, 810, 20))),
        Given("blade_kg", "mass of the blade", tuple(range(4, 13))),
        Given("speed_rpm", "crank speed", tuple(range(60, 185, 5))),
    ),
    fits=chopper_fits,
    machine=chopper,
)


@kept
def motion(g):
    """The chopper's motion at the given crank angle."""
    return move(chopper(g), g.crank_angle, speed=1.0 * g.speed)


def at_rest(g, load=None):
    """The forces without masses."""
    return forces(motion(g), loads={"slide": -1.0 * (g.load if load is None else load)})


def rod(g):
    """Direction of the rod by its height, radians."""
    rise = g.offset - g.crank * sin(g.crank_angle)
    return atan2(rise, sqrt(g.rod**2 - rise**2))


def rod_words(g):
    """The direction in words."""
    return f"The rod points to {degrees(rod(g)):.2f} degrees: it rises by {1000 * g.rod * sin(rod(g)):.2f} mm."


def slope(g):
    """How far the blade goes for a small turn of the crank, metres a radian."""
    return -g.crank * (sin(g.crank_angle) - cos(g.crank_angle) * tan(rod(g)))


BARS = "bars = lk.slider_crank(loaded.crank, loaded.rod, offset=loaded.offset)\n" \
       "motion = lk.move(bars, loaded.crank_angle, speed=loaded.speed)\n"  # fmt: skip
STILL = BARS + 'found = lk.forces(motion, loads={"slide": -1.0 * loaded.load})\n'
MOVING = (
    BARS + 'found = lk.forces(motion, masses={"slider": float(loaded.blade_kg)}, loads={"slide": -1.0 * loaded.load})\n'
)

ROD_FORCE = Question(
    id="rod_force",
    version=1,
    concept="10-static",
    setting="ice-chopper-loaded",
    title="The force in the rod",
    marks=2,
    ask="The machine turns so slowly that the blade's mass does not matter. How large is the force in the connecting rod?",
    kind=Number("N", calculated("N", size=100.0)),
    answer=lambda g: np.abs(at_rest(g).pin("B")),
    by_hand=lambda g: Worked((rod_words(g), f"Along x only the rod and the ice push the blade: S cos φ = {g.load_newton} N, "
                              f"S = {g.load / cos(rod(g)):.4g} N."), float(g.load / cos(rod(g)))),
    model=STILL + 'rod_force = (abs(found.pin("B")), "N")',
    misconceptions=(
        Misconception("load-itself", lambda g: 1.0 * g.load,
                      "This is the load. The rod leans: only a part of its force is along x.", 1 / 3),
        Misconception("cosine-upside-down", lambda g: g.load * np.cos(motion(g).angle("rod")),
                      "The cosine is on the wrong side: S cos φ is the part along x.", 1 / 2),
        Misconception("sine", lambda g: g.load / np.abs(np.sin(motion(g).angle("rod"))),
                      "The part along x goes with the cosine of the rod's angle.", 1 / 3),
    ),
    hint="Free body of the blade: rod, guide and ice. Look along x, where the guide does not push.",
)  # fmt: skip

SIDE_PUSH = Question(
    id="side_push",
    version=1,
    concept="10-static",
    setting="ice-chopper-loaded",
    title="The push of the guide",
    marks=3,
    ask="At the same slow turning: with what force does the guide push the blade, upwards positive?",
    kind=Number("N", stepwise(50.0)),
    answer=lambda g: at_rest(g).slide("slide").normal,
    by_hand=lambda g: Worked((rod_words(g), f"Upwards: N + S sin φ = 0, so N = −{g.load_newton} × tan φ = "
                              f"{-g.load * tan(rod(g)):.4g} N."), float(-g.load * tan(rod(g)))),
    model=STILL + 'side_push = (found.slide("slide").normal, "N")',
    misconceptions=(
        Misconception("on-the-guide", lambda g: -at_rest(g).slide("slide").normal,
                      "This is the push of the blade on the guide. The guide's on the blade is opposite.", 1 / 2),
        Misconception("sine-of-the-load", lambda g: -g.load * np.sin(motion(g).angle("rod")),
                      "The load was taken for the rod's force. That is larger: N = load × tan φ in size.", 1 / 2),
        Misconception("crank-angle", lambda g: -g.load * np.tan(g.crank_angle),
                      "The crank's angle was used. It is the rod that leans on the guide.", 1 / 4),
    ),
    hint="Free body of the blade: upwards, the rod's part and the guide's push are in balance.",
)  # fmt: skip

HOLDING_TORQUE = Question(
    id="holding_torque",
    version=1,
    concept="10-static",
    setting="ice-chopper-loaded",
    title="The torque on the crank",
    marks=3,
    ask="At the same slow turning: what torque must be put on the crank, anticlockwise positive?",
    kind=Number("N m", stepwise(10.0)),
    answer=lambda g: at_rest(g).input_torque,
    by_hand=lambda g: Worked(
        (rod_words(g), f"For a small turn the blade moves by {slope(g):.4g} m a radian; work in is work out: T = "
         f"{g.load_newton} × ({slope(g):.4g}) = {g.load * slope(g):.4g} N m."), float(g.load * slope(g))),
    model=STILL + 'holding_torque = (found.input_torque, "N m")',
    misconceptions=(
        Misconception("load-times-crank", lambda g: g.load * g.crank,
                      "Load times crank holds only with crank and rod at right angles and no lean.", 1 / 4),
        Misconception("rod-taken-as-parallel", lambda g: -g.load * g.crank * np.sin(g.crank_angle),
                      "The rod was taken to stay parallel to the guide. It leans: its arm about O is another.", 1 / 3),
        Misconception("of-the-load", lambda g: -at_rest(g).input_torque,
                      "This is the torque that the load puts on the crank. What has to be put in is opposite.", 1 / 2),
    ),
    hint="Rod force times its arm about O, or: power in is power out.",
)  # fmt: skip


def blade_acceleration(g):
    """By the second rate of x."""
    phi = rod(g)
    turn = -g.speed * g.crank * cos(g.crank_angle) / (g.rod * cos(phi))
    speeding = (g.speed**2 * g.crank * sin(g.crank_angle) + turn**2 * g.rod * sin(phi)) / (g.rod * cos(phi))
    return -(g.speed**2) * g.crank * cos(g.crank_angle) - speeding * g.rod * sin(phi) - turn**2 * g.rod * cos(phi)


BLADE_FORCE = Question(
    id="blade_force",
    version=1,
    concept="10-inertia",
    setting="ice-chopper-loaded",
    title="The force that the blade's mass needs",
    marks=4,
    ask="The crank turns evenly at the speed given. What force along x, with its sign, is needed to accelerate the blade?",
    kind=Number("N", stepwise(50.0)),
    answer=lambda g: g.blade_kg * motion(g).acceleration("B").real,
    by_hand=lambda g: Worked((f"The blade's acceleration is {blade_acceleration(g):.4g} m/s² (second rate of x).",
                              f"F = m a = {g.blade_kg} × ({blade_acceleration(g):.4g}) N."),
                             float(g.blade_kg * blade_acceleration(g))),
    model=BARS + 'blade_force = (loaded.blade_kg * motion.acceleration("B").real, "N")',
    misconceptions=(
        Misconception("force-of-inertia", lambda g: -g.blade_kg * motion(g).acceleration("B").real,
                      "This is the inertia force, −m a. The force that is needed is m a.", 1 / 2),
        Misconception("rod-taken-as-parallel", lambda g: -g.blade_kg * g.speed**2 * g.crank * np.cos(g.crank_angle),
                      "The blade was given the acceleration of A along x. The rod adds its own parts.", 1 / 3),
        Misconception("force-along-the-motion", lambda g: g.blade_kg * motion(g).velocity("B").real * g.speed,
                      "The force was put along the velocity. It goes with the acceleration.", 1 / 4),
        Misconception("weight", lambda g: g.blade_kg * 9.81 + 0 * g.speed, "This is the blade's weight. It does not act "
                      "along the guide."),
    ),
    hint="Acceleration of the slider first (crank part, and the rod's two parts), then times the mass.",
)  # fmt: skip


def running_torque(g, earlier=None):
    """Load and mass over the crank; from the student's own force on the blade where there is one."""
    if earlier:
        return (g.load + earlier["blade_force"]) * slope(g)
    masses = {"slider": Mass(1.0 * g.blade_kg)}
    return forces(motion(g), masses=masses, loads={"slide": -1.0 * g.load}).input_torque


RUNNING_TORQUE = Question(
    id="running_torque",
    version=1,
    concept="10-inertia",
    setting="ice-chopper-loaded",
    title="The torque at speed",
    marks=3,
    ask="What torque must be on the crank at this speed, load and the blade's mass together, anticlockwise positive?",
    kind=Number("N m", stepwise(10.0)),
    answer=running_torque,
    by_hand=lambda g: Worked(
        (f"The blade needs {g.blade_kg * blade_acceleration(g):.4g} N beside the {g.load_newton} N of the ice.",
         f"The blade moves by {slope(g):.4g} m a radian: T = ({g.load_newton} + "
         f"({g.blade_kg * blade_acceleration(g):.4g})) × ({slope(g):.4g}) N m."),
        float((g.load + g.blade_kg * blade_acceleration(g)) * slope(g))),
    model=MOVING + 'running_torque = (found.input_torque, "N m")',
    needs=("blade_force",),
    admits=lambda g, earlier: abs(earlier["blade_force"]) < 20 * g.load,
    misconceptions=(
        Misconception("mass-left-out", lambda g: at_rest(g).input_torque,
                      "This is the torque of the load alone. At this speed the blade's mass counts as well.", 1 / 3),
        Misconception("load-left-out", lambda g: running_torque(g) - at_rest(g).input_torque,
                      "This is the torque of the blade's mass alone. The load comes on top.", 1 / 3),
        Misconception("inertia-reversed", lambda g: 2 * at_rest(g).input_torque - running_torque(g),
                      "The part of the mass has the wrong sign: the rod must push harder where the blade speeds up.", 1 / 2),
    ),
    hint="Along x the rod gives the load and m a; with power in = power out that is a torque on the crank.",
)  # fmt: skip

FASTER = Setting(
    id="chopper-faster",
    version=1,
    title="Faster",
    story="The ice chopper, whose crank turns evenly, is to run faster than now." + CAUTION,
    givens=(
        Given("now_rpm", "speed now", tuple(range(60, 125, 5))),
        Given("then_rpm", "speed then", tuple(range(140, 325, 10))),
    ),
    fits=lambda g: g.then_rpm > 1.3 * g.now_rpm,
)

SPEED_EFFECT = Question(
    id="speed_effect",
    version=1,
    concept="10-inertia",
    setting="chopper-faster",
    title="What speed does",
    marks=1,
    ask="How many times larger are the forces of its moving masses then, at the same crank angle?",
    kind=Number("", calculated("")),
    answer=lambda g: (1.0 * g.then_rpm / g.now_rpm) ** 2,
    by_hand=lambda g: Worked((f"Accelerations go with the square of the speed: ({g.then_rpm} / {g.now_rpm})².",),
                             float(g.then_rpm * g.then_rpm / g.now_rpm**2)),
    model="speed_effect = (faster.then / faster.now) ** 2",
    misconceptions=(
        Misconception("in-proportion", lambda g: 1.0 * g.then_rpm / g.now_rpm,
                      "Velocities go with the speed; accelerations, and the forces with them, with its square.", 1 / 3),
        Misconception("upside-down", lambda g: (1.0 * g.now_rpm / g.then_rpm) ** 2, "It is upside down: they grow.", 1 / 2),
        Misconception("cubed", lambda g: (1.0 * g.then_rpm / g.now_rpm) ** 3,
                      "That is how the power of these forces grows. The forces go with the square.", 1 / 3),
    ),
    hint="Every acceleration has the square of the crank's speed in it.",
)  # fmt: skip

SETTINGS = (LOADED, FASTER)
QUESTIONS = (ROD_FORCE, SIDE_PUSH, HOLDING_TORQUE, BLADE_FORCE, RUNNING_TORQUE, SPEED_EFFECT)
