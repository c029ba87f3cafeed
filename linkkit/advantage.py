"""Mechanical advantage: how much more force or torque comes out of a linkage than is put in, without losses."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .breakdown import linkage_groups
from .rates import extent_of

STILL = 1e-9  # of the input's pace: an output that is slower counts as standing still


@dataclass(frozen=True)
class Advantage:
    """The mechanical advantage over the cycle.

    Attributes
    ----------
    output : str
        The link whose motion is the output.
    kind : str
        "torque" if the output turns, "force" if it is moved along.
    ratio : float array
        Output torque (or force) over input torque (or force): the speed of the input over that of the output. Its
        sign tells whether both turn the same way. No unit, or 1/m, or m, as the two kinds ask.
    toggle : bool array
        Where the output stands still while the input moves: there the ratio is infinite in an ideal linkage, and in
        a real one bounded by its stiffness, play and friction.
    """

    output: str
    kind: str
    ratio: np.ndarray
    toggle: np.ndarray


def mechanical_advantage(motion, output=None, *, point=None) -> Advantage:
    """The mechanical advantage of a motion, by its power: what goes in comes out.

    Parameters
    ----------
    motion : Motion
    output : str, optional
        A link; the linkage's output if not given.
    point : str, optional
        Take the force along the path of this point of the output, instead of a torque on it.

    Examples
    --------
    >>> import linkkit as lk, numpy as np
    >>> bar = lk.move(lk.four_bar(0.100, 0.040, 0.120, 0.080), np.radians(40))
    >>> float(mechanical_advantage(bar).ratio.round(4))
    3.5725
    """
    linkage, unit = motion.linkage, motion.with_speed(1.0)
    output = output or linkage.output or linkage_groups(linkage)[-1].links[-1]
    turn = unit.angular_velocity(output)
    size = extent_of(linkage)
    if point is None and np.nanmax(np.abs(turn), initial=0.0) > STILL:
        kind, rate, floor = "torque", turn, STILL
    else:
        spot = motion.point(point or linkage.links[output][0]) if point or linkage.links[output] else 0j
        velocity = unit.velocity_at(output, spot)
        kind, rate, floor = "force", np.abs(velocity), STILL * size
        slides = [s for s in linkage.slides if output == s.block and linkage.fixed == s.on]
        if slides:
            rate = (np.conj(slides[0].direction) * velocity).real
    toggle = np.abs(rate) <= floor
    with np.errstate(divide="ignore"):
        return Advantage(output, kind, np.where(toggle, np.inf, 1 / rate)[()], toggle)
