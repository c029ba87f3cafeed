"""The net shaker between its limits: where they are, the swing, the time ratio, the worst transmission."""

from __future__ import annotations

from math import acos, degrees, pi

import numpy as np

from ...dyads import rrr
from ..answers import Number
from ..question import Misconception, Question, Worked
from ..tolerance import calculated
from .net_shaker import MODEL_BAR, angle_at_joint, extremes_at_joint, folded, placed, worst_fold


def in_line(g):
    """B in the far limit (crank and coupler stretched out in line) and in the near one (one over the other).

    Then OB is one bar of known length, and B is the free pin of a two-link group on O and Q.
    """
    pivot = g.ground + 0j
    return tuple(
        rrr(0 * pivot, pivot, reach**2, g.rocker**2, 1.0) for reach in (g.coupler + g.crank, g.coupler - g.crank)
    )


def limits(g):
    """Crank angles of the far and of the near limit position, radians."""
    far, near = in_line(g)
    return np.angle(far), np.angle(-near)


def _in_line(g, length_mm):
    """Direction of OB and of QB, degrees from +x, with B at `length_mm` from O, above the line OQ."""
    at_o = acos((g.ground_mm**2 + length_mm**2 - g.rocker_mm**2) / (2 * g.ground_mm * length_mm))
    at_q = acos((g.ground_mm**2 + g.rocker_mm**2 - length_mm**2) / (2 * g.ground_mm * g.rocker_mm))
    return degrees(at_o), 180 - degrees(at_q)


def _both(g):
    """Both limit positions by the cosine rule, and the steps."""
    far, near = g.crank_mm + g.coupler_mm, g.coupler_mm - g.crank_mm
    (far_o, far_q), (near_o, near_q) = _in_line(g, far), _in_line(g, near)
    steps = (
        f"In the far limit crank and coupler are stretched out: OB = {g.crank_mm} + {g.coupler_mm} = {far} "
        f"mm. Triangle OBQ has the "
        f"sides {far}, {g.rocker_mm} and {g.ground_mm} mm; its angle at O is {far_o:.2f} degrees, so the "
        f"crank stands at {far_o:.2f} degrees.",
        f"In the near limit they lie on each other: OB = {g.coupler_mm} − {g.crank_mm} = {near} mm. The "
        f"angle at O is {near_o:.2f} degrees; "
        f"B lies opposite to the crank, which stands at {near_o:.2f} + 180 = {near_o + 180:.2f} degrees.",
    )
    return far_o, far_q, near_o, near_q, steps


def far_limit(g):
    """The crank angle with crank and coupler stretched out in line."""
    return limits(g)[0]


def far_limit_by_hand(g):
    """The triangle OBQ with OB = crank + coupler."""
    far_o, _, _, _, steps = _both(g)
    return Worked(steps[:1], np.radians(far_o))


FAR_LIMIT = Question(
    id="far_limit",
    concept="02-limits",
    version=1,
    setting="net-shaker",
    title="The far limit position",
    marks=3,
    ask=(
        "Calculate the crank angle at which the rocker stands in its far limit position, the one with B "
        "farthest from O."
    ),
    kind=Number("deg", calculated("deg", turn=True)),
    answer=far_limit,
    by_hand=far_limit_by_hand,
    model=MODEL_BAR
    + """ends = lk.facts(net).limits
far_limit = (max(ends, key=lambda angle: abs(lk.move(net, angle).point("B"))), "rad")""",
    misconceptions=(
        Misconception(
            "near-limit",
            lambda g: limits(g)[1],
            "This is the other limit position, with the crank folded back over the coupler. In the far "
            "one they are stretched out: OB is their sum.",
            1 / 3,
        ),
        Misconception(
            "rocker-instead",
            lambda g: placed(g, far_limit(g))[3],
            "This is the rocker's direction in that position. The crank's is asked for: the angle at O of "
            "the triangle OBQ.",
            1 / 3,
        ),
        Misconception(
            "opposite-crank",
            lambda g: far_limit(g) + pi,
            "The crank points the other way here. Stretched out, A lies between O and B.",
        ),
        Misconception(
            "crank-along-ground",
            lambda g: 0 * far_limit(g),
            "The rocker does not turn back when the crank lies along the fixed link, but when crank and "
            "coupler lie in one line.",
        ),
    ),
    hint=(
        "In a limit position crank and coupler lie in one line. Draw triangle OBQ with OB as the sum of "
        "the two, and use the cosine rule at O."
    ),
)


def swing(g):
    """The angle between the rocker's limit positions."""
    far, near = in_line(g)
    return np.abs(np.angle((far - g.ground) / (near - g.ground)))


def swing_by_hand(g):
    """The difference of the angles at Q in the two limit positions."""
    _, far_q, _, near_q, steps = _both(g)
    last = (
        f"The rocker stands at {far_q:.2f} degrees in the far limit and at {near_q:.2f} in the near one; "
        f"between them it swings {near_q - far_q:.2f} degrees."
    )
    return Worked((*steps, last), np.radians(near_q - far_q))


def _between(g, first, second):
    """The angle between the rocker's directions at two crank angles."""
    return np.abs(np.angle(np.exp(1j * (placed(g, first)[3] - placed(g, second)[3]))))


SWING = Question(
    id="swing",
    concept="02-limits",
    version=1,
    setting="net-shaker",
    title="How far does it swing?",
    marks=3,
    ask="Calculate the swing of the rocker: the angle between its two limit positions.",
    kind=Number("deg", calculated("deg")),
    answer=swing,
    by_hand=swing_by_hand,
    model=MODEL_BAR + 'swing = (lk.facts(net).swing, "rad")',
    misconceptions=(
        Misconception(
            "crank-along-ground",
            lambda g: _between(g, 0 * g.crank, 0 * g.crank + pi),
            "This is how far the rocker turns between the crank positions along the fixed link. It swings "
            "further: its limits come when crank and coupler are in line.",
            1 / 3,
        ),
        Misconception(
            "crank-turn",
            lambda g: np.abs(np.angle(np.exp(1j * (limits(g)[1] - limits(g)[0])))),
            "This is the angle between the crank's two positions. The swing is the angle between the "
            "rocker's, measured at Q.",
        ),
        Misconception(
            "half-swing",
            lambda g: swing(g) / 2,
            "This is half of it. The swing is counted from one limit position to the other, not to each "
            "side of the middle.",
            1 / 2,
        ),
    ),
    hint=(
        "Find the rocker's direction in both limit positions (OB = coupler + crank, OB = coupler − crank) "
        "and take the difference."
    ),
)


def _extra(g):
    """By how much the crank's longer way between the limits exceeds half a turn."""
    return pi - np.abs(np.angle(np.exp(1j * (limits(g)[1] - limits(g)[0]))))


def _ratio_of(angle):
    return (pi + angle) / (pi - angle)


def time_ratio(g):
    """Time of the slower stroke over that of the quicker one, the crank turning evenly."""
    return _ratio_of(_extra(g))


def time_ratio_by_hand(g):
    """From the crank's directions in the limit positions."""
    far_o, _, near_o, _, steps = _both(g)
    extra = abs(near_o - far_o)
    last = (
        f"From one to the other the crank turns {180 + extra:.2f} degrees the long way and "
        f"{180 - extra:.2f} degrees the short way. "
        f"At an even speed the times are as the angles: {180 + extra:.2f} / {180 - extra:.2f} = "
        f"{(180 + extra) / (180 - extra):.4g}."
    )
    return Worked((*steps, last), (180 + extra) / (180 - extra))


TIME_RATIO = Question(
    id="time_ratio",
    concept="02-limits",
    version=1,
    setting="net-shaker",
    title="Slow one way, quick the other",
    marks=3,
    ask=(
        "The crank turns at an even speed. Calculate the time ratio: the time of the rocker's slower "
        "stroke divided by that of its quicker one."
    ),
    kind=Number("", calculated("")),
    answer=time_ratio,
    by_hand=time_ratio_by_hand,
    model=MODEL_BAR + "time_ratio = lk.facts(net).time_ratio",
    misconceptions=(
        Misconception(
            "inverted",
            lambda g: 1 / time_ratio(g),
            "This is the quicker stroke over the slower one. The time ratio is the other way up, never less than one.",
            1 / 2,
        ),
        Misconception(
            "from-the-swing",
            lambda g: _ratio_of(swing(g)),
            "The rocker's swing was used. What decides the times is how far the crank turns for each stroke.",
            1 / 3,
        ),
        Misconception(
            "twice-the-angle",
            lambda g: _ratio_of(2 * _extra(g)),
            "The angle between the two lines of crank and coupler was counted twice. One stroke takes 180 "
            "degrees plus it, the other 180 degrees less it.",
            1 / 3,
        ),
        Misconception(
            "no-difference",
            lambda g: 1 + 0 * g.crank,
            "The strokes take the same time only if the crank turns half a turn for each. Work out how "
            "far it turns between the limit positions.",
        ),
    ),
    hint=(
        "Find the crank angle in both limit positions; the two strokes take times in the ratio of the "
        "angles that the crank turns between them."
    ),
)


def _other_extreme(g):
    inner, outer = (folded(angle) for angle in extremes_at_joint(g))
    return np.maximum(inner, outer)


def least_transmission_by_hand(g):
    """The angle at B with AQ shortest and longest."""

    def at_b(d):
        return degrees(acos((g.coupler_mm**2 + g.rocker_mm**2 - d * d) / (2 * g.coupler_mm * g.rocker_mm)))

    short, long = at_b(g.ground_mm - g.crank_mm), at_b(g.ground_mm + g.crank_mm)
    value = min(short, 180 - short, long, 180 - long)
    steps = (
        f"The angle at B is least and greatest where AQ is: {g.ground_mm} − {g.crank_mm} = "
        f"{g.ground_mm - g.crank_mm} mm and "
        f"{g.ground_mm} + {g.crank_mm} = {g.ground_mm + g.crank_mm} mm, the crank along the fixed link.",
        f"By the cosine rule the angle at B is {short:.2f} degrees and {long:.2f} degrees; folded to at "
        f"most 90 degrees: "
        f"{min(short, 180 - short):.2f} and {min(long, 180 - long):.2f} degrees.",
        f"The smaller one counts: {value:.2f} degrees.",
    )
    return Worked(steps, np.radians(value))


LEAST_TRANSMISSION = Question(
    id="least_transmission",
    concept="02-transmission",
    version=1,
    setting="net-shaker",
    title="The worst push of the cycle",
    marks=3,
    ask="Calculate the smallest transmission angle (0 to 90 degrees) that occurs while the crank turns once.",
    kind=Number("deg", calculated("deg")),
    answer=worst_fold,
    by_hand=least_transmission_by_hand,
    model=MODEL_BAR
    + """least, greatest = lk.facts(net).transmission_angle
least_transmission = (min(least, np.pi - greatest), "rad")""",
    misconceptions=(
        Misconception(
            "other-extreme",
            _other_extreme,
            "This is the angle at the other extreme. Look at both crank positions along the fixed link, "
            "fold both, take the smaller.",
            1 / 2,
        ),
        Misconception(
            "not-folded",
            lambda g: pi - worst_fold(g),
            "This is the obtuse angle of the same two lines. A transmission angle does not exceed 90 degrees: fold it.",
            1 / 2,
        ),
        Misconception(
            "in-a-limit",
            lambda g: folded(angle_at_joint(g, limits(g)[0])),
            "This is the angle in a limit position of the rocker. The transmission angle has its extremes "
            "where the crank lies along the fixed link.",
        ),
    ),
    hint=(
        "The angle at B depends on AQ alone; AQ is shortest and longest where the crank lies along the "
        "fixed link. Compare both."
    ),
)

QUESTIONS = (FAR_LIMIT, SWING, TIME_RATIO, LEAST_TRANSMISSION)
