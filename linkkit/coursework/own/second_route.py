"""A second route to every position: the loop equations written out, solved step by step by scipy's general solver.

Nothing of the package's own solving is used, only the description of the linkage. The worked solution's values come
from here, so that the answer and its check go different ways.
"""

from __future__ import annotations

import numpy as np

from ...linkage import Linkage
from ...placing import ends, sketched

STEP = 0.12  # radians, or sizes of the linkage, of the input between two solutions
TINY = 1e-4  # of the input: for a rate by differences


def follow(linkage: Linkage, value: float) -> dict:
    """Where each link is at a value of the first input, followed from the sketch: link to (turn, shift).

    A point z of the sketch is then at ``turn * z + shift``.
    """
    return _placed(linkage, _pose(linkage, value), _size(linkage))


def _size(linkage) -> float:
    return max(abs(z) for z in linkage.points.values())


def _pose(linkage, value: float, near: np.ndarray | None = None) -> np.ndarray:
    """The unknowns at a value of the first input, from the sketch or from near by; kept with the linkage, so found once."""
    kept = linkage.__dict__.setdefault("_followed", {})
    if value not in kept:
        aim = _start(linkage) | {linkage.inputs[0].name: value}
        kept[value] = _walked(linkage, value) if near is None else _closed(linkage, near, aim, _size(linkage))
    return kept[value]


def _walked(linkage, value: float) -> np.ndarray:
    drive, size = linkage.inputs[0], _size(linkage)
    start = _start(linkage)
    goal = _near(start[drive.name], value) if drive.kind == "angle" and drive.span is None else value
    many = int(np.ceil(abs(goal - start[drive.name]) / (STEP if drive.kind == "angle" else STEP * size))) or 1
    pose = np.zeros(3 * len(linkage.moving))
    for at in np.linspace(start[drive.name], goal, many + 1)[1:]:
        pose = _closed(linkage, pose, start | {drive.name: at}, size)
    return pose


def _start(linkage) -> dict:
    return {i.name: float(sketched(linkage, i)) for i in linkage.inputs}


def point_at(linkage: Linkage, value: float, point: str) -> complex:
    """Where a point is, metres.

    Examples
    --------
    >>> import linkkit as lk
    >>> bool(abs(point_at(lk.four_bar(0.4, 0.1, 0.35, 0.25), 1.0, "A") - 0.1 * np.exp(1j)) < 1e-9)
    True
    """
    return _spot(linkage, follow(linkage, value), point)


def _spot(linkage, places, point: str) -> complex:
    turn, shift = places[linkage.carriers[point][0]]
    return complex(turn * linkage.points[point] + shift)


def coefficient(linkage: Linkage, value: float, point: str) -> complex:
    """The point's velocity at unit speed of the input, by central differences."""
    size, pose = _size(linkage), _pose(linkage, value)
    span = TINY if linkage.inputs[0].kind == "angle" else TINY * size
    beside = [_placed(linkage, _pose(linkage, value + off, pose), size) for off in (span, -span)]
    ahead, behind = (_spot(linkage, places, point) for places in beside)
    return (ahead - behind) / (2 * span)


def _near(start: float, value: float) -> float:
    """The same angle, at most half a turn from the start."""
    return start + (value - start + np.pi) % (2 * np.pi) - np.pi


def _closed(linkage, pose, inputs, size):
    from scipy.optimize import root

    found = root(lambda x: _gaps(linkage, _placed(linkage, x, size), inputs, size), pose, tol=1e-13)
    return found.x


def _placed(linkage, pose, size) -> dict:
    """Turn and shift of each link; the unknowns are x and y in sizes of the linkage, and the turn in radians."""
    places = {linkage.fixed: (1 + 0j, 0j)}
    for n, link in enumerate(linkage.moving):
        x, y, turn = pose[3 * n : 3 * n + 3]
        places[link] = np.exp(1j * turn), size * (x + 1j * y)
    return places


def _gaps(linkage, places, inputs, size) -> np.ndarray:
    """How far every pair and every input is from where it should be, in sizes of the linkage."""
    rows = []
    for pair in linkage.pairs:
        if pair.kind == "turning":
            (ua, wa), (ub, wb) = (places[k] for k in pair.links)
            gap = (ua - ub) * linkage.points[pair.at] + wa - wb
            rows += [gap.real / size, gap.imag / size]
        else:
            rows += _slide_gaps(linkage.slide(pair.at), places, size)
    return np.array(rows + [_input_gap(linkage, i, places, inputs[i.name], size) for i in linkage.inputs])


def _slide_gaps(s, places, size):
    (ua, wa), (ub, wb) = places[s.on], places[s.block]
    off = np.conj(ua * s.direction) * ((ub - ua) * s.through + wb - wa)
    return [np.angle(ub / ua), off.imag / size]


def _input_gap(linkage, i, places, value, size):
    start = float(sketched(linkage, i))
    if i.kind == "angle":
        (ua, _), (ub, _) = (places[k] for k in ends(linkage, i))
        return np.angle(ub / ua * np.exp(1j * (start - value)))
    s = linkage.slide(i.at)
    (ua, wa), (ub, wb) = places[s.on], places[s.block]
    moved = (np.conj(ua * s.direction) * ((ub - ua) * s.through + wb - wa)).real
    return (moved - (value - start)) / size
