"""Every design is moved again, on a fine grid, and its defects are said in words."""

from __future__ import annotations

import numpy as np

from ..errors import LinkageError
from ..facts import four_bar_lengths, grashof
from ..linkage import is_family
from ..motion import move
from ..transmission import angles
from .limits import SLACK
from .result import Design

FINE = 1440  # positions of a turn in the last check
STUCK = np.radians(
    5
)  # below this transmission angle friction is as good as certain to hold (common practice, no source)


def judge(linkage, aims=(), *, limits=(), over=None, values=None, figures=None, defects=()) -> Design:
    """Measure one linkage against aims and limits, on a fine grid of its input.

    Parameters
    ----------
    linkage : Linkage
    aims, limits : sequence
        As for `search`.
    over : (float, float), optional
        The range of the input, radians or metres; one whole turn, or the input's span, if not given.
    values, figures, defects : optional
        What the result is to say besides.

    Returns
    -------
    Design
        With a defect for each aim that misses by more than its `within`, each limit that is not kept, and each stretch
        of the range where the linkage does not assemble.

    Examples
    --------
    >>> import linkkit as lk
    >>> from linkkit.design import Swing
    >>> judge(lk.four_bar(0.4, 0.1, 0.35, 0.25), [Swing("rocker", 0.83)]).good
    True
    """
    if is_family(linkage):
        raise LinkageError("one linkage at a time is judged, not a family")
    motion = move(linkage, None if over is None else np.linspace(*over, FINE + 1), steps=FINE)
    broken = assembly_defects(motion)
    misses, error, wrong, told = ({}, np.inf, [], {}) if broken else measured(motion, aims, limits)
    return Design(
        linkage, {name: float(x) for name, x in (values or {}).items()}, dict(figures or {}) | said(motion) | told, misses, error,
        (*defects, *broken, *stuck(motion), *wrong), motion,
    )  # fmt: skip


def measured(motion, aims, limits):
    """The largest miss of each aim, the error of all, sentences for what is not met, and a figure for each aim."""
    found = [(aim, np.abs(np.asarray(aim.miss(motion), dtype=float))) for aim in aims]
    misses = {aim.name: float(miss.max()) for aim, miss in found}
    error = float(np.sqrt(np.mean([np.mean((miss / aim.within) ** 2) for aim, miss in found]))) if found else 0.0
    wrong = [
        f"{aim.name} misses by {aim.text(miss.max(), aim.within)}, and {aim.text(aim.within)} is allowed"
        for aim, miss in found
        if not miss.max() <= aim.within * (1 + SLACK)
    ]
    wrong += [limit.words(motion) for limit in limits if limit.excess(motion) > SLACK]
    return misses, error, wrong, {aim.name: f"off by {aim.text(miss.max())} at most" for aim, miss in found}


def assembly_defects(motion):
    """Where the motion cannot be carried out: gaps, and places where it could go on in two ways."""
    show, found = shown(motion), []
    if not motion.ok.all():
        edges = np.flatnonzero(np.diff(np.concatenate([[True], motion.ok, [True]]).astype(int)))
        gaps = [f"{show(motion.input[a])} to {show(motion.input[b - 1])}" for a, b in edges.reshape(-1, 2)]
        found.append(f"circuit defect: it does not assemble at an input of {', '.join(gaps)}")
    spots = [x for x in motion.change_points if motion.input[0] <= x <= motion.input[-1]]
    if spots:
        found.append(f"branch defect: at {', '.join(map(show, spots))} it could go on in two ways (a change point)")
    return found


def stuck(motion):
    """The sentence for a motion that comes so near a dead centre that its input cannot drive it."""
    pressed = [np.minimum(a, np.pi - a)[motion.ok] for a in angles(motion) if motion.ok.any()]
    least = min((a.min() for a in pressed), default=np.pi)
    said = f"dead centre: the transmission angle falls to {np.degrees(least):.1f} deg, where the input cannot drive it"
    return (said,) if least < STUCK else ()


def shown(motion):
    """How values of the input are written."""
    kind = next(i.kind for i in motion.linkage.inputs if i.name == motion.drive)
    return (lambda x: f"{np.degrees(x):.1f} deg") if kind == "angle" else (lambda x: f"{1000 * x:.1f} mm")


def said(motion):
    """Figures that belong to every design: the class of a four-bar, and the transmission angle over the range."""
    found, lengths = {}, four_bar_lengths(motion.linkage)
    if lengths is not None:
        found["class"] = grashof(*lengths)[0]
    pressed = [a[motion.ok] for a in angles(motion) if motion.ok.any()]
    if pressed:
        low, high = (np.degrees(pick(np.concatenate(pressed))) for pick in (np.min, np.max))
        found["transmission angle"] = f"{low:.1f} to {high:.1f} deg"
    return found
