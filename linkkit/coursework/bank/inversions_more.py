"""More with another link fixed: all four inversions of a chain, which pins turn fully, the oscillating cylinder."""

from __future__ import annotations

from math import atan2, cos, degrees, hypot, pi, sin

import numpy as np

from ...linkage import Input, Linkage, Slide
from ..answers import Number, Table
from ..givens import Given, Setting
from ..question import Misconception, Question, Worked
from ..tolerance import calculated
from .inversions import BARS, CLASSES, _excess, _lengths

PLACED = (
    "double-crank",
    "crank-rocker",
    "double-rocker",
    "crank-rocker",
)  # by the steps from the fixed to the shortest


def by_case(turning, none, sign=1):
    """A table as a function of the numbers: `turning` of the shortest bar's place if that turns fully, else `none`.

    With the sign -1 the sums are compared the wrong way round.
    """
    table = np.empty(5, dtype=object)
    table[:] = [*map(turning, range(4)), none]
    return lambda g: table[np.where(sign * _excess(g) > 0, 4, _lengths(g).argmin(axis=0))]


def classes(shortest, placed=PLACED):
    """The class with each bar fixed, in the order of BARS, if the shortest turns fully."""
    return tuple(placed[(shortest - fixed) % 4] for fixed in range(4))


NONE = ("(none)",) * 4  # words that nobody writes: the misconception shows only where some bar turns fully
NO_TURN = ("triple-rocker",) * 4
all_classes = by_case(classes, NO_TURN)


def all_by_hand(g):
    """The sums once, then the place of the shortest bar seen from each."""
    lengths = {name: int(getattr(g, f"{name}_mm")) for name in BARS}
    short, mid, high, long = sorted(lengths.values())
    step = f"Shortest + longest = {short + long} mm, the other two {mid + high} mm."
    if short + long > mid + high:
        return Worked((step, "No bar turns fully, whichever is fixed."), ("triple-rocker",) * 4)
    shortest = min(lengths, key=lengths.get)
    order = list(BARS)[list(BARS).index(shortest) :] + list(BARS)[: list(BARS).index(shortest)]
    found = dict(zip(order, ("double-crank", "crank-rocker", "double-rocker", "crank-rocker"), strict=True))
    last = (
        f"The {shortest} turns fully. Fixed itself: double-crank; a neighbour fixed: crank-rocker; the bar opposite: "
    )
    return Worked((step, last + "double-rocker."), tuple(found[name] for name in BARS))


ALL_CLASSES = Question(
    id="all_classes",
    version=1,
    concept="04-bars",
    setting="chain-of-bars",
    title="All four inversions",
    marks=4,
    ask="Which class is it with each of the four bars fixed in turn?",
    kind=Table(BARS, CLASSES),
    answer=all_classes,
    by_hand=all_by_hand,
    model="""chain = lk.four_bar(bars.ground, bars.crank, bars.coupler, bars.rocker)
for fixed in all_classes:
    found = lk.facts(chain.with_fixed(fixed)).grashof_class
    all_classes[fixed] = "crank-rocker" if found == "rocker-crank" else found""",
    misconceptions=(
        Misconception("reversed", by_case(classes, NO_TURN, -1),
                      "The two sums were compared the wrong way round."),
        Misconception("fixed-and-opposite-exchanged",
                      by_case(lambda k: classes(k, (PLACED[2], PLACED[1], PLACED[0], PLACED[3])), NONE),
                      "Double-crank and double-rocker are exchanged: with the shortest bar fixed, both its neighbours go "
                      "right round.", 1 / 2),
        Misconception("all-the-same", by_case(lambda k: ("crank-rocker",) * 4, NONE),
                      "The class changes with the fixed bar: see where the shortest one lies from it.", 1 / 4),
    ),
    hint="Compare the sums once. If a bar turns fully it is the shortest: fixed, beside the fixed one, or opposite to it.",
)  # fmt: skip

PINS = ("ground and crank", "crank and coupler", "coupler and rocker", "rocker and ground")
TURNS = ("right round", "to and fro")


def pins(shortest, turning="right round", other="to and fro"):
    """The word for each pin, in the order of PINS: `turning` at both ends of the shortest bar."""
    ends = {(shortest - 1) % 4, shortest}
    return tuple(turning if k in ends else other for k in range(4))


def pins_by_hand(g):
    """The ends of the shortest bar."""
    lengths = {name: int(getattr(g, f"{name}_mm")) for name in BARS}
    short, mid, high, long = sorted(lengths.values())
    step = f"Shortest + longest = {short + long} mm, the other two {mid + high} mm."
    if short + long > mid + high:
        return Worked((step, "No two bars turn right round against each other."), ("to and fro",) * 4)
    shortest = min(lengths, key=lengths.get)
    value = tuple("right round" if shortest in pin.split(" and ") else "to and fro" for pin in PINS)
    return Worked((step, f"The {shortest} turns right round against both its neighbours, the others do not."), value)


TURNING_PINS = Question(
    id="turning_pins",
    version=1,
    concept="04-bars",
    setting="chain-of-bars",
    title="Which pins turn right round?",
    marks=2,
    ask="Whichever bar is clamped, two bars turn against each other in the same way. At each pin: right round, or to and "
    "fro?",
    kind=Table(PINS, TURNS),
    answer=by_case(pins, ("to and fro",) * 4),
    by_hand=pins_by_hand,
    model="""chain = lk.four_bar(bars.ground, bars.crank, bars.coupler, bars.rocker)
for pin, (fixed, driven) in zip(turning_pins, (pin.split(" and ") for pin in turning_pins)):
    seen = lk.four_bar(*np.roll([bars.ground, bars.crank, bars.coupler, bars.rocker],
                                -["ground", "crank", "coupler", "rocker"].index(fixed)))
    turns = lk.facts(seen).grashof_class in ("crank-rocker", "double-crank")
    turning_pins[pin] = "right round" if turns else "to and fro\"""",
    misconceptions=(
        Misconception("reversed", by_case(pins, ("to and fro",) * 4, -1),
                      "The two sums were compared the wrong way round."),
        Misconception("opposite-ends", by_case(lambda k: pins(k, "to and fro", "right round"), NONE),
                      "These are the pins that the shortest bar has not. It is the shortest bar that turns right round "
                      "against its neighbours."),
        Misconception("all-of-them", by_case(lambda k: ("right round",) * 4, ("right round",) * 4),
                      "If the bars turned right round at all four pins, all four would pass through one line."),
    ),
    hint="Grashof's sums tell whether any bar turns fully; if one does it is the shortest, at both its pins.",
)  # fmt: skip


def engine(g):
    """The crank, and the cylinder that swings on its pin below."""
    points = {"O": 0j, "A": g.crank + 0j, "Q": -1j * g.ground}
    way = (points["A"] - points["Q"]) / abs(points["A"] - points["Q"])
    links = {"frame": ("O", "Q"), "crank": ("O", "A"), "piston": ("A",), "cylinder": ("Q",)}
    bore = Slide("bore", "piston", "cylinder", points["Q"], way)
    turn = Input("crank", "angle", "O", ("frame", "crank"))
    return Linkage(points, links, "frame", (bore,), (turn,), output="cylinder", name="oscillating cylinder")


SWINGING = Setting(
    id="swinging-cylinder",
    version=1,
    title="The swinging cylinder",
    story="The steam launch has an engine without a connecting rod: the piston rod takes hold of the crank pin A, and the "
    "cylinder swings about its pin Q, which lies straight below O. O is the origin; the crank angle is measured "
    "anticlockwise from +x.\n\n*Steam scalds and engines crush: keep clear of a real one, and follow the local rules.*",
    givens=(
        Given("crank_mm", "crank OA", tuple(range(40, 95, 5))),
        Given("ground_mm", "OQ, straight down", tuple(range(220, 405, 10))),
        Given("crank_angle_deg", "crank angle", tuple(a for a in range(20, 345, 5) if a % 90)),
    ),
    fits=lambda g: g.crank < 0.4 * g.ground,
    machine=engine,
)


def to_pin(g):
    """From Q to A, complex metres."""
    return g.crank * np.exp(1j * g.crank_angle) + 1j * g.ground


def _triangle(g):
    along, up = g.crank_mm * cos(g.crank_angle), g.crank_mm * sin(g.crank_angle) + g.ground_mm
    return along, up, (f"A lies {along:.2f} mm to the right of Q and {g.ground_mm} + ({up - g.ground_mm:.2f}) = {up:.2f} "
                       "mm above it.",)  # fmt: skip


def direction_by_hand(g):
    """The arrow from Q to A."""
    along, up, steps = _triangle(g)
    return Worked((*steps, f"Its direction is {degrees(atan2(up, along)):.2f} degrees from +x."), atan2(up, along))


def length_by_hand(g):
    """Its length."""
    along, up, steps = _triangle(g)
    return Worked((*steps, f"QA = √({along:.2f}² + {up:.2f}²) = {hypot(along, up):.2f} mm."), hypot(along, up) / 1000)


MODEL = "to_pin = cylinder.crank * np.exp(1j * cylinder.crank_angle) + 1j * cylinder.ground\n"
CYLINDER_DIRECTION = Question(
    id="cylinder_direction",
    version=1,
    concept="04-slider",
    setting="swinging-cylinder",
    title="How does the cylinder lean?",
    marks=2,
    ask="Calculate the direction of the cylinder, from Q to A, anticlockwise from +x, at your crank angle.",
    kind=Number("deg", calculated("deg", turn=True)),
    answer=lambda g: np.angle(to_pin(g)),
    by_hand=direction_by_hand,
    model=MODEL + 'cylinder_direction = (np.angle(to_pin), "rad")',
    misconceptions=(
        Misconception("crank-instead", lambda g: 1.0 * g.crank_angle,
                      "This is the crank's direction. The cylinder points from Q, which lies below O, to A."),
        Misconception("from-the-upright", lambda g: np.angle(to_pin(g)) - pi / 2,
                      "This is how far it leans from the upright. Count from +x.", 1 / 2),
        Misconception("pin-above", lambda g: np.angle(to_pin(g) - 2j * g.ground),
                      "Q was put above O. It lies below: A is higher above Q than above O.", 1 / 3),
    ),
    hint="Find A from O by its coordinates, then from Q: as far to the right, and OQ higher.",
)  # fmt: skip

CYLINDER_LENGTH = Question(
    id="cylinder_length",
    version=1,
    concept="04-slider",
    setting="swinging-cylinder",
    title="How far is the rod drawn out?",
    marks=2,
    ask="Calculate the distance QA at your crank angle.",
    kind=Number("mm", calculated("mm")),
    answer=lambda g: np.abs(to_pin(g)),
    by_hand=length_by_hand,
    model=MODEL + 'cylinder_length = (abs(to_pin), "m")',
    misconceptions=(
        Misconception("right-angle-at-o", lambda g: np.hypot(g.crank, g.ground),
                      "The crank was taken to be square to OQ. It stands at your crank angle.", 1 / 3),
        Misconception("height-only", lambda g: to_pin(g).imag,
                      "This is how high A is above Q. It lies to one side as well: use Pythagoras.", 1 / 3),
        Misconception("pin-above", lambda g: np.abs(to_pin(g) - 2j * g.ground),
                      "Q was put above O. It lies below.", 1 / 3),
    ),
    hint="Coordinates of A from Q, then Pythagoras.",
)  # fmt: skip

SETTINGS = (SWINGING,)
QUESTIONS = (ALL_CLASSES, TURNING_PINS, CYLINDER_DIRECTION, CYLINDER_LENGTH)
