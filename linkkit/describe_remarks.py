"""What someone who knows machines would remark on a description before anything is made of it."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from .facts import Facts
from .motion import move
from .placing import sketched
from .reach import reach
from .transmission import angles

LARGE, SMALL = 100.0, 0.002  # metres: farther across, or less, and the unit is rather wrong than the machine so
SQUARE, IN_LINE = 30, 5  # degrees: below, a chain is apt to jam (common practice, no source); is as good as in line


def remarks(linkage, known: Facts) -> list[str]:
    """Sentences on what is probably not meant; none for a sound machine.

    Examples
    --------
    >>> import linkkit as lk
    >>> remarks(lk.machine("net-shaker"), lk.facts(lk.machine("net-shaker")))
    []
    """
    return [said for look in (_size, _output, _input, _sketch, _transmission) for said in look(linkage, known)]


def amount(i, value: float) -> str:
    """A value of an input, in degrees or millimetres."""
    return f"{np.degrees(value):.1f} degrees" if i.kind == "angle" else f"{1000 * value:.1f} mm"


def _size(linkage, known) -> Iterator[str]:
    spots = np.array(list(linkage.points.values()))
    across = max(np.ptp(spots.real), np.ptp(spots.imag))
    if not SMALL < across < LARGE:
        yield (f"The sketch is {across:.3g} m across. Is the unit right? It is said at the top of the file, as in "
               'unit = "mm"; without it the numbers are metres.')  # fmt: skip


def _output(linkage, known) -> Iterator[str]:
    if linkage.output == linkage.fixed:
        yield f"The output named, {linkage.output}, is the fixed link; the {known.output} is taken instead."
    if known.stroke is not None and known.stroke < 1e-9:
        yield (f"The output {known.output} stands still when the input moves: a link or a pair between the two is missing, "
               "or another output is meant.")  # fmt: skip


def _input(linkage, known) -> Iterator[str]:
    i, whole = linkage.inputs[0], reach(linkage)
    if whole.round:
        return
    low, high = (amount(i, x) for x in whole.here)
    if i.span is None and i.kind == "angle":
        yield (f"The {i.links[1]} cannot turn all the way: it goes from {low} to {high}. If it should go round, one of the "
               "lengths is not as it is on the machine.")  # fmt: skip
    elif i.span is not None and len(whole.dead_centres):
        asked = " to ".join(amount(i, x) for x in i.span)
        yield (f"The span of the input {i.name} is {asked}, but the links let it go only from {low} to {high}. It stops there "
               "at a dead centre: end the span well before.")  # fmt: skip
    start = float(sketched(linkage, i))
    if i.kind == "distance" and not whole.here[0] <= start <= whole.here[1]:
        yield f"In the sketch the input {i.name} is {amount(i, start)}, which is outside its range, {low} to {high}."


def _sketch(linkage, known) -> Iterator[str]:
    drive = linkage.inputs[0]
    found = angles(move(linkage, [float(sketched(linkage, drive))]))
    worst = min((min(float(a[0]), np.pi - float(a[0])) for a in found), default=np.pi)
    if worst < np.radians(IN_LINE):
        yield (f"In the sketch two links of a chain are nearly in line ({np.degrees(worst):.1f} degrees), so the side on which "
               "their joint lies is hard to see: sketch the machine with the input elsewhere.")  # fmt: skip


def _transmission(linkage, known) -> Iterator[str]:
    low, high = known.transmission_angle
    worst = np.degrees(min(low, np.pi - high))
    if worst < SQUARE and not len(known.dead_centres):  # at a dead centre it is 0, which is said already
        yield (f"Somewhere in its motion a chain transmits at only {worst:.0f} degrees; below {SQUARE} a machine with friction "
               "is apt to jam. That may be meant, as in a toggle.")  # fmt: skip
