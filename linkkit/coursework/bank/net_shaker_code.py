"""The net shaker as a function that the student writes."""

from __future__ import annotations

from math import pi

import numpy as np

from ..answers import Function
from ..question import Misconception, Question, Worked
from ..tolerance import coded
from .net_shaker import MODEL_BAR, by_triangles, placed

HEADING = '''def rocker_at(crank_angle):
    """The direction of your rocker QB at any crank angle.

    Parameters
    ----------
    crank_angle : float
        Radians, anticlockwise from +x; any value, also more than one turn and less than zero.

    Returns
    -------
    float
        The direction from Q to B in radians, B on the left as you look from A to Q.
    """'''


def _columns(g, circuit="open"):
    """The rocker's direction over an axis of crank angles, which comes after that of students, if any."""
    lengths = type(g)({name: np.asarray(value)[..., None] for name, value in g.values.items()})
    return lambda angles: placed(lengths, np.asarray(angles), circuit)[3]


def _script(line, circuit="open"):
    """A student's function that ends in `line`."""
    return MODEL_BAR.replace("rocker)", f'rocker, circuit="{circuit}")') + line


def rocker_at(g, crank_angle):
    """The rocker's direction at the crank angles."""
    return _columns(g)(crank_angle)


def by_hand(g):
    """Two triangles, for a crank angle of one radian."""
    direction, _, _, steps = by_triangles(g, 1.0)
    return Worked((*steps, f"At one radian, for instance, your function returns {direction:.6f}."), direction)


ROCKER_AT = Question(
    id="rocker_at",
    concept="02-position",
    version=1,
    setting="net-shaker",
    title="The rocker at any crank angle",
    marks=6,
    ask=(
        "Write a function that returns the direction of your rocker at any crank angle, from your "
        "lengths. Put your lengths into it as "
        "numbers or use those of the table above. You may use the standard library and numpy, or the "
        "package of this course."
    ),
    kind=Function("rocker_at", HEADING, coded("rad", turn=True), lambda unit: (2 * unit - 0.5) * 2 * pi, "rad"),
    answer=rocker_at,
    by_hand=by_hand,
    model=MODEL_BAR + 'return float(lk.move(net, crank_angle).angle("rocker"))',
    misconceptions=(
        Misconception(
            "degrees-for-radians",
            lambda g, x: rocker_at(g, np.radians(x)),
            "Your function takes its input for degrees. It is called with radians: leave out the "
            "conversion, or give sin and cos the angle as it comes.",
            1 / 3,
            _script('return lk.move(net, np.radians(crank_angle)).angle("rocker")'),
        ),
        Misconception(
            "degrees-out",
            lambda g, x: np.degrees(rocker_at(g, x)),
            "Your function returns degrees; radians are asked for.",
            2 / 3,
            _script('return np.degrees(lk.move(net, crank_angle).angle("rocker"))'),
        ),
        Misconception(
            "wrong-circuit",
            lambda g, x: _columns(g, "crossed")(x),
            "Your function follows the crossed circuit. The triangle ABQ has two solutions; take the one "
            "with B on the left of AQ.",
            1 / 2,
            _script('return lk.move(net, crank_angle).angle("rocker")', "crossed"),
        ),
        Misconception(
            "other-end",
            lambda g, x: rocker_at(g, x) + pi,
            "Your function returns the direction from B to Q; the one from Q to B is asked for.",
            2 / 3,
            _script('return lk.move(net, crank_angle).angle("rocker") + np.pi'),
        ),
    ),
    hint=(
        "Try it at an angle of your position diagram, then at a negative angle and at more than one turn; "
        "arctan2 keeps the quadrant where arctan loses it."
    ),
)

QUESTIONS = (ROCKER_AT,)
