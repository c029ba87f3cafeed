"""Loop equations as formulas, how many ways a loop closes, and a step of Newton's method."""

from __future__ import annotations

from math import hypot

import numpy as np

from ..answers import Choice, Number
from ..expression import Expression, Symbol
from ..givens import Given, Setting
from ..question import Misconception, Question, Worked, one_by_one
from ..tolerance import calculated
from .quay_machines import Whole

BARS = (
    Symbol("a", "the crank OA", 0.2, 0.5), Symbol("b", "the coupler AB", 0.9, 1.4), Symbol("c", "the rocker QB", 0.8, 1.3),
    Symbol("d", "the fixed link OQ", 1.0, 1.6), Symbol("theta", "the crank's angle", 0.1, 6.2),
    Symbol("phi", "the coupler's angle, A to B", 0.1, 3.0), Symbol("psi", "the rocker's angle, Q to B", 0.1, 3.0),
)  # fmt: skip

LOOP = Setting(
    id="loop-of-bars",
    version=1,
    title="Four bars as a sum of vectors",
    story="O is the origin and Q lies on the x axis, at the distance d to the right. The crank a, the coupler b and the "
    "rocker c have the angles θ (theta), φ (phi) and ψ (psi), all anticlockwise from +x; the rocker's from Q to B. Go from "
    "O to B on the way given below.",
    givens=(
        Given("part", "coordinate of B", ("x", "y")),
        Given("way", "way", ("over A", "over Q")),
    ),
    fits=lambda g: g.part != "",
)
WAYS = {
    ("x", "over A"): "a*cos(theta) + b*cos(phi)", ("y", "over A"): "a*sin(theta) + b*sin(phi)",
    ("x", "over Q"): "d + c*cos(psi)", ("y", "over Q"): "c*sin(psi)",
}  # fmt: skip


def way(g):
    """The coordinate as a formula."""
    return WAYS[str(g.part), str(g.way)]


def _other(**change):
    """The formula of another coordinate or way."""
    return one_by_one(lambda g: WAYS[change.get("part", {}).get(str(g.part), str(g.part)),
                                     change.get("way", {}).get(str(g.way), str(g.way))])  # fmt: skip


SIGNS = {"a*cos(theta) + b*cos(phi)": "a*cos(theta) - b*cos(phi)", "a*sin(theta) + b*sin(phi)": "a*sin(theta) - b*sin(phi)",
         "d + c*cos(psi)": "d - c*cos(psi)", "c*sin(psi)": "-c*sin(psi)"}  # fmt: skip
RUN = {"x": "cosine", "y": "sine"}


def way_by_hand(g):
    """Vector by vector."""
    legs = {"over A": (("a", "theta"), ("b", "phi")), "over Q": (("d", None), ("c", "psi"))}[str(g.way)]
    shape = {"x": "{}*cos({})", "y": "{}*sin({})"}[str(g.part)]
    level = {"x": "d", "y": "0"}[str(g.part)]
    parts = [shape.format(*leg) if leg[1] else level for leg in legs]
    return Worked((f"Each vector has its length times the {RUN[str(g.part)]} of its angle; OQ lies on the x axis.",
                   f"Their sum: {' + '.join(parts)}."), " + ".join(parts))  # fmt: skip


JOINT_PART = Question(
    id="joint_part",
    version=1,
    concept="06-loop",
    setting="loop-of-bars",
    title="B by one way round the loop",
    marks=2,
    ask="Write the coordinate of B named below as a formula, on the way named below.",
    kind=Expression(BARS),
    answer=one_by_one(way),
    by_hand=way_by_hand,
    model=f'joint_part = {WAYS}[str(bars.part), str(bars.way)]',
    misconceptions=(
        Misconception("sine-and-cosine", _other(part={"x": "y", "y": "x"}),
                      "This is the other coordinate: x goes with the cosine, y with the sine.", 1 / 3),
        Misconception("other-way", _other(way={"over A": "over Q", "over Q": "over A"}),
                      "This is right on the other way round the loop. Take the one that is asked for.", 1 / 2),
        Misconception("sign", one_by_one(lambda g: SIGNS[way(g)]),
                      "The last vector has the wrong sign. It is gone along in its own direction, towards B.", 1 / 3),
    ),
    hint="Go from pin to pin; each vector has the parts length × cos and length × sin of its angle.",
)  # fmt: skip

DIAGONALS = {
    ("AQ", "from the line OQ"): "sqrt(a^2 + d^2 - 2*a*d*cos(theta))",
    ("AQ squared", "from the line OQ"): "a^2 + d^2 - 2*a*d*cos(theta)",
    ("AQ", "from the line OQ drawn beyond O"): "sqrt(a^2 + d^2 + 2*a*d*cos(theta))",
    ("AQ squared", "from the line OQ drawn beyond O"): "a^2 + d^2 + 2*a*d*cos(theta)",
}
DIAGONAL = Setting(
    id="loop-diagonal",
    version=1,
    title="The diagonal of the loop",
    story="The crank OA has the length a, the fixed link OQ the length d. The crank's angle θ (theta) is measured at O as "
    "said below.",
    givens=(
        Given("wanted", "wanted", ("AQ", "AQ squared")),
        Given("measured", "the crank's angle is measured", ("from the line OQ", "from the line OQ drawn beyond O")),
    ),
    fits=lambda g: g.wanted != "",
)


def diagonal(g):
    """The formula."""
    return DIAGONALS[str(g.wanted), str(g.measured)]


def diagonal_by_hand(g):
    """Cosine rule in triangle OAQ; drawn beyond O the angle in it is the rest of half a turn."""
    within = "theta" if str(g.measured) == "from the line OQ" else "(pi - theta)"
    square = f"a^2 + d^2 - 2*a*d*cos{within if within[0] == '(' else f'({within})'}"
    value = square if "squared" in str(g.wanted) else f"sqrt({square})"
    return Worked((f"The angle at O in triangle OAQ is {within}.", f"Cosine rule: {value}."), value)


DIAGONAL_AQ = Question(
    id="diagonal_formula",
    version=1,
    concept="06-loop",
    setting="loop-diagonal",
    title="The distance AQ",
    marks=2,
    ask="Write what is wanted as a formula in a, d and theta.",
    kind=Expression((Symbol("a", "the crank OA", 0.2, 0.5), Symbol("d", "the fixed link OQ", 0.8, 1.6),
                     Symbol("theta", "the crank's angle", 0.1, 6.2))),
    answer=one_by_one(diagonal),
    by_hand=diagonal_by_hand,
    model=f"diagonal_formula = {DIAGONALS}[str(diagonal.wanted), str(diagonal.measured)]",
    misconceptions=(
        Misconception("sign",
                      one_by_one(lambda g: diagonal(g).replace("+ 2*", "± 2*").replace("- 2*", "+ 2*").replace("±", "-")),
                      "The sign of the last term is wrong for an angle measured in this way: try the crank pointing at Q.",
                      1 / 2),
        Misconception("right-angle", one_by_one(lambda g: diagonal(g).split(" 2*a")[0][:-2]
                                                + (")" if "sqrt" in diagonal(g) else "")),
                      "That is the theorem of Pythagoras: it holds for a right angle at O only.", 1 / 3),
        Misconception("root", one_by_one(lambda g: diagonal(g)[5:-1] if "sqrt" in diagonal(g) else f"sqrt({diagonal(g)})"),
                      "Look again at what is wanted: the distance or its square.", 1 / 2),
    ),
    hint="Cosine rule in triangle OAQ. Check it with the crank along OQ: then AQ is d − a or d + a.",
)  # fmt: skip

GUESSED = Setting(
    id="newton-guess",
    version=1,
    title="A guess made better",
    story="The slider of a slider-crank is looked for by Newton's method. A lies at x = A_x and y = A_y (below); the guide "
    "is level at y = e; the rod AB has the length l. The unknown is x, the place of B along the guide, and the equation is "
    "f(x) = (x − A_x)² + (e − A_y)² − l² = 0.",
    givens=(
        Given("pin_x_mm", "A_x", tuple(range(-80, 85, 10))),
        Given("pin_y_mm", "A_y", tuple(range(-80, 85, 10))),
        Given("offset_mm", "e", tuple(range(20, 65, 5))),
        Given("rod_mm", "rod l", tuple(range(200, 305, 5))),
        Given("guess_mm", "first guess of x", tuple(range(-480, 490, 20))),
    ),
    fits=lambda g: (np.abs(g.guess - g.pin_x) >= 0.06) & (np.abs(np.abs(g.guess - g.pin_x) - g.rod) >= 0.04),
)


def off(g):
    """f at the guess, square metres."""
    return (g.guess - g.pin_x) ** 2 + (g.offset - g.pin_y) ** 2 - g.rod**2


def step(g, sign=-1.0, slope=2.0):
    """The next value of x."""
    return g.guess + sign * off(g) / (slope * (g.guess - g.pin_x))


def solved(g):
    """The root on the side of the guess."""
    away = np.sqrt(g.rod**2 - (g.offset - g.pin_y) ** 2)
    return g.pin_x + np.sign(g.guess - g.pin_x) * away


def step_by_hand(g):
    """f, its slope, the step; millimetres."""
    away, rise = g.guess_mm - g.pin_x_mm, g.offset_mm - g.pin_y_mm
    value, slope = away**2 + rise**2 - g.rod_mm**2, 2 * away
    found = g.guess_mm - value / slope
    steps = (f"f = {away}² + ({rise})² − {g.rod_mm}² = {value} mm².", f"Slope: f′ = 2 × {away} = {slope} mm.",
             f"x₁ = {g.guess_mm} − ({value}) / ({slope}) = {found:.2f} mm.")  # fmt: skip
    return Worked(steps, found / 1000)


NEWTON_STEP = Question(
    id="newton_step",
    version=1,
    concept="06-circuit",
    setting="newton-guess",
    title="One step",
    marks=3,
    ask="Do one step from your first guess: which x does it lead to?",
    kind=Number("mm", calculated("mm", size=0.1)),
    answer=step,
    by_hand=step_by_hand,
    model="""f = (guess.guess - guess.pin_x) ** 2 + (guess.offset - guess.pin_y) ** 2 - guess.rod ** 2
newton_step = (guess.guess - f / (2 * (guess.guess - guess.pin_x)), "m")""",
    misconceptions=(
        Misconception("wrong-way", lambda g: step(g, 1.0),
                      "The step went the wrong way: x₁ = x₀ − f / f′.", 1 / 2),
        Misconception("slope-halved", lambda g: step(g, slope=1.0),
                      "The derivative of a square has a factor 2.", 1 / 2),
        Misconception("root-instead", solved,
                      "This is the root itself. What one single step leads to is asked for."),
    ),
    hint="Work out f and its derivative at the guess; the next value is x₀ − f / f′.",
)  # fmt: skip

SIDES = ("to the right of A", "to the left of A", "it does not settle")
NEWTON_SIDE = Question(
    id="newton_side",
    version=1,
    concept="06-circuit",
    setting="newton-guess",
    title="On which circuit does it end?",
    marks=1,
    ask="Carried on until it settles: where does it put B?",
    kind=Choice(SIDES),
    answer=lambda g: np.where(g.guess > g.pin_x, SIDES[0], SIDES[1])[()],
    by_hand=lambda g: Worked(
        ("f is a parabola with its lowest point at x = A_x; from either side of it the steps stay on that side.",
         f"The guess is {abs(g.guess_mm - g.pin_x_mm)} mm {'right' if g.guess_mm > g.pin_x_mm else 'left'} of A."),
        SIDES[0] if g.guess_mm > g.pin_x_mm else SIDES[1],
    ),
    model="""x = float(guess.guess)
for _ in range(60):
    x -= ((x - guess.pin_x) ** 2 + (guess.offset - guess.pin_y) ** 2 - guess.rod ** 2) / (2 * (x - guess.pin_x))
newton_side = "to the right of A" if x > guess.pin_x else "to the left of A\"""",
    misconceptions=(
        Misconception("other-side", lambda g: np.where(g.guess > g.pin_x, SIDES[1], SIDES[0])[()],
                      "The steps cannot cross the lowest point of the parabola, which lies at A. On which side of it is "
                      "your guess?"),
        Misconception("never", lambda g: np.where(g.guess > -9, SIDES[2], "")[()],
                      "It settles from any guess but A itself, where the slope is zero."),
    ),
    hint="Sketch f over x: a parabola. On which side of its lowest point does the guess lie?",
)  # fmt: skip

WAYS_TO_CLOSE = Setting(
    id="loop-closing",
    version=1,
    title="Does it close?",
    story="Four lengths and a crank angle are below. The crank OA is set at its angle from the line OQ; then coupler and "
    "rocker are to be pinned together at B.",
    givens=(
        Given("ground_mm", "fixed link OQ", tuple(range(150, 405, 5))),
        Given("crank_mm", "crank OA", tuple(range(80, 205, 5))),
        Given("coupler_mm", "coupler AB", tuple(range(100, 305, 5))),
        Given("rocker_mm", "rocker QB", tuple(range(100, 305, 5))),
        Given("crank_angle_deg", "crank angle", tuple(range(15, 180, 5))),
    ),
    fits=lambda g: (
        (np.abs(_span(g) - g.coupler - g.rocker) > 0.01) & (np.abs(_span(g) - np.abs(g.coupler - g.rocker)) > 0.01)
    ),
)


def _span(g):
    """The distance AQ."""
    return np.abs(g.ground - g.crank * np.exp(1j * g.crank_angle))


def ways(g):
    """In how many ways the loop closes."""
    return np.where((_span(g) < g.coupler + g.rocker) & (_span(g) > np.abs(g.coupler - g.rocker)), 2.0, 0.0)[()]


def ways_by_hand(g):
    """AQ against the sum and the difference of the two others."""
    x, y = g.crank_mm * np.cos(g.crank_angle), g.crank_mm * np.sin(g.crank_angle)
    span = hypot(g.ground_mm - x, y)
    low, high = abs(g.coupler_mm - g.rocker_mm), g.coupler_mm + g.rocker_mm
    steps = (f"AQ = {span:.1f} mm.", f"Two arcs meet if AQ is between {low} and {high} mm.")
    return Worked(steps, 2.0 if low < span < high else 0.0)


WAYS_THERE = Question(
    id="ways_to_close",
    version=1,
    concept="06-circuit",
    setting="loop-closing",
    title="In how many ways?",
    marks=2,
    ask="In how many ways can the loop be closed at this crank angle?",
    kind=Number("", Whole(0.0, 0.01, False, "count")),
    answer=ways,
    by_hand=ways_by_hand,
    model="""span = abs(closing.ground - closing.crank * np.exp(1j * closing.crank_angle))
ways_to_close = 2 if abs(closing.coupler - closing.rocker) < span < closing.coupler + closing.rocker else 0""",
    misconceptions=(
        Misconception("one", lambda g: 1.0 + 0 * g.crank,
                      "Two circles touch in one point only by a rare chance. Do the arcs about A and Q meet, or not?", 1 / 4),
        Misconception("reversed", lambda g: 2.0 - ways(g),
                      "Compare AQ with the sum and with the difference of coupler and rocker: the arcs meet only in "
                      "between."),
    ),
    hint="Find AQ. The arcs of coupler and rocker meet twice if AQ is between the difference and the sum of the two.",
)  # fmt: skip

SETTINGS = (LOOP, DIAGONAL, GUESSED, WAYS_TO_CLOSE)
QUESTIONS = (JOINT_PART, DIAGONAL_AQ, NEWTON_STEP, NEWTON_SIDE, WAYS_THERE)
