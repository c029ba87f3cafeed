"""How far the output of a machine goes between its limit positions: swing or stroke."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

import numpy as np

from ...errors import LinkageError
from ...facts import facts
from ...motion import move
from ...reach import reach
from ..answers import Number
from ..question import Misconception, Question, Worked
from ..tolerance import calculated
from .asked import angle_words, question
from .drawing import Drawn, facts_of, goes_round

STEPS = 360  # positions of a turn, for many students at once


def travel(setting: Drawn, id: str = "its_travel", *, marks: float = 3, title: str = "From limit to limit", ask: str = "",
           without: Sequence[str] = ()) -> Question:  # fmt: skip
    """How far the output goes between its limit positions, over the whole range of the input."""
    as_drawn = facts(setting.linkage)
    output, turning = as_drawn.output, as_drawn.stroke is None
    if turning and as_drawn.swing > 2 * np.pi - 1e-6:
        raise LinkageError(f"{output} goes right round, so it has no limits to ask for")
    if not turning and not _straight(setting.linkage, output):
        raise LinkageError(
            f"{output} moves along a curve, so how far it travels could be taken in two ways: ask for something else"
        )
    unit, word = ("deg", "swing") if turning else ("mm", "travel")
    right = lambda g: _between_limits(setting, g, output, turning)  # noqa: E731
    wrong = [
        Misconception("half", lambda g: right(g) / 2,
                      "This is from the middle to one end. From one limit to the other is asked for.", 1 / 2),
        Misconception("twice", lambda g: 2 * right(g),
                      "This is there and back. From one limit to the other is asked for.", 1 / 2),
    ]  # fmt: skip
    if setting.turning and goes_round(setting):
        wrong.append(
            Misconception("quarters", lambda g: _between_quarters(setting, g, output, turning),
                          "This is between the input at 0 and at 180 degrees. The output turns back elsewhere: where are crank "
                          "and coupler in line?", 1 / 3))  # fmt: skip
    tolerance = calculated(unit) if turning else calculated(unit, size=float(as_drawn.stroke))
    return question(
        setting, id, wrong, without, title=title, marks=marks, concept="02-limits", kind=Number(unit, tolerance), answer=right,
        ask=ask or f"How far does the {output} {word} between its two limit positions, while the input goes through all of its "
        "range?",
        by_hand=lambda g: _by_hand(setting, g, output, turning),
        hint="At a limit position the output stands still for a moment: two links of its chain are then in line.",
        model=f'known = lk.facts(machine)\n{id} = (known.{"swing" if turning else "stroke"}, "{"rad" if turning else "m"}")',
    )  # fmt: skip


def _straight(linkage, output) -> bool:
    """Does a link that does not turn move along a straight line?"""
    spots = move(linkage, reach(linkage).values(60)).place(output, 0j)
    spots = spots[np.isfinite(spots)] - spots[np.isfinite(spots)][0]
    far = spots[np.argmax(np.abs(spots))]
    return bool(np.abs((np.conj(far) * spots).imag).max() < 1e-6 * abs(far) ** 2)


def _between_limits(setting, g, output, turning):
    """Swing or stroke, of one student or many. Where the input goes round, from a row of positions for each."""
    if setting.turning and goes_round(setting):
        motion = setting.moved(g, np.arange(STEPS) * (2 * np.pi / STEPS), cycle=True)
        way = _way(motion, output, turning)
        return _peak(way) + _peak(-way)
    many = np.shape(next(iter(g.values.values())))
    found = lambda one: _over_range(setting, setting.machine.places(one), output, turning)  # noqa: E731
    return np.array([found(g.at(k)) for k in range(*many)]) if many else found(g)


@lru_cache(maxsize=4096)
def _over_range(setting, places, output, turning):
    """Swing or stroke of one machine whose input goes to and fro, both ends included."""
    linkage = setting.machine.at(places)
    way = _way(move(linkage, reach(linkage).values(2 * STEPS + 1)), output, turning)
    return float(np.nanmax(way) - np.nanmin(way))


def _way(motion, output, turning):
    """The output's angle, or its way along the line on which it moves; the last axis runs over the positions."""
    if turning:
        return motion.angle(output)
    linkage = motion.linkage
    spots = motion.place(output, linkage.points[linkage.links[output][0]] if linkage.links[output] else 0j)
    apart = spots - spots[..., :1]
    far = np.take_along_axis(apart, np.argmax(np.abs(apart), axis=-1)[..., None], axis=-1)
    return (np.conj(far / np.abs(far)) * apart).real


def _peak(way):
    """The greatest value of a row that closes in itself, by the parabola through it and its neighbours."""
    top = np.argmax(way, axis=-1)[..., None]
    low, mid, high = (np.take_along_axis(way, (top + n) % way.shape[-1], axis=-1)[..., 0] for n in (-1, 0, 1))
    bend = 2 * mid - low - high
    return mid + np.where(bend > 0, (low - high) ** 2 / np.where(bend > 0, 8 * bend, 1), 0)


def _between_quarters(setting, g, output, turning):
    """The output's displacement between the input at 0 and at 180 degrees."""
    way = _way(setting.moved(g, np.linspace(0, np.pi, 19), cycle=True), output, turning)
    return np.abs(way[..., -1] - way[..., 0])


def _by_hand(setting, g, output, turning):
    """The positions at which the output turns back, and where it then is: roots of its velocity, not a table."""
    known = facts_of(setting, g)
    value = known.swing if turning else known.stroke
    say, far = (angle_words if setting.turning else _length_words), (angle_words if turning else _length_words)
    steps = (
        f"The {output} turns back where it stands still while the input goes on: at {', '.join(map(say, known.limits))}."
        if len(known.limits) else f"The {output} goes all one way; its ends are those of the input's range.",
        f"From end to end lie {far(value)}.",
    )  # fmt: skip
    return Worked(steps, float(value))


def _length_words(value):
    return f"{1000 * value:.2f} mm"
