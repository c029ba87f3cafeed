"""The table that lets a page move a picture by itself: where every link lies at each position, in pixels.

A link's row holds four numbers (x, y, c, s): its sketch point that lies at the pixel vector (p, q) of the
sketch, y downwards, is seen at ``(x + c p + s q, y - s p + c q)``. Bodies of the picture name their link and
their own origin.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from .scene import Group


@dataclass(frozen=True)
class Poses:
    """The positions that a picture can be moved through.

    Attributes
    ----------
    links : tuple of str
        The links that move bodies of the picture.
    table : float array, shape (positions, links, 4)
    index : int array
        The index of each position in the cycle.
    input : float array
        The input at each position, radians or metres, without jumps.
    closed : bool
        Whether the last position is followed by the first; if not, the motion goes to and fro.
    start : int
        The position that is nearest to the picture as drawn.
    """

    links: tuple
    table: np.ndarray
    index: np.ndarray
    input: np.ndarray
    closed: bool
    start: int


def poses(scene, cycle, *, most=360) -> Poses:
    """The table for a picture of a cycle, of at most so many positions."""
    links = tuple(dict.fromkeys(g.link for g in scene.shapes if isinstance(g, Group) and g.link))
    index = _thinned(_run(cycle), most, cycle.whole_turn)
    table = _rows(scene, cycle, links, index)
    values = np.unwrap(cycle.input[index]) if cycle.kind == "angle" else cycle.input[index]
    return Poses(links, table, index, values, cycle.whole_turn, _start(cycle, index))


def _rows(scene, cycle, links, index):
    origin, turn = (np.array([find(k)[index] for k in links]).T for find in (cycle.origin, cycle.turn))
    table = np.empty((*origin.shape, 4))
    table[..., 0] = (origin.real - scene.bounds.left) / scene.px
    table[..., 1] = (scene.bounds.top - origin.imag) / scene.px
    table[..., 2], table[..., 3] = turn.real, turn.imag
    return table


def _run(cycle):
    """The indices of the unbroken run of assembled positions that holds the moment shown, else of the longest one."""
    n = len(cycle.ok)
    if cycle.ok.all():
        return np.arange(n)
    cut = int(np.argmin(cycle.ok)) if _goes_round(cycle) else 0
    order = (np.arange(n) + cut) % n
    runs = np.split(order, np.flatnonzero(np.diff(cycle.ok[order].astype(int))) + 1)
    runs = [r for r in runs if cycle.ok[r[0]]]
    return next((r for r in runs if cycle.moment in r), max(runs, key=len))


def _goes_round(cycle):
    """Whether the cycle was asked for all round, so that its end joins its beginning."""
    return (
        cycle.kind == "angle" and abs(cycle.input[-1] - cycle.input[0]) * len(cycle.ok) / (len(cycle.ok) - 1) > 6.2831
    )


def _thinned(index, most, closed):
    if len(index) <= most:
        return index
    if closed:
        return index[:: -(-len(index) // most)]
    return index[np.unique(np.linspace(0, len(index) - 1, most).round().astype(int))]


def _start(cycle, index):
    first = cycle.start if cycle.moment is None else cycle.moment % len(cycle.ok)
    return int(np.argmin(np.abs(index - first)))


def posed(scene, cycle, k):
    """The picture at another position: every group that rides on a link moved there, no label placed anew."""
    groups = [_moved(g, cycle, k) if isinstance(g, Group) and g.link else g for g in scene.shapes]
    return replace(scene, shapes=tuple(groups))


def _moved(group, cycle, k):
    at, turn = complex(cycle.place(group.link, group.spot)[k]), complex(cycle.turn(group.link)[k])
    return replace(group, at=at, turn=1 + 0j if group.upright else turn)
