"""Very many linkages of one kind at once, in flat memory and on all cores."""

from __future__ import annotations

import os
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace

import numpy as np

from .breakdown import linkage_groups
from .errors import LinkageError
from .linkage import Linkage
from .motion import move
from .quantity import real

POSITIONS = (
    64_000  # positions in hand at once on a core: numpy works long between the moments when cores wait for each other
)
BLOCK = 32  # pieces that are built together


def survey(build, lengths, input_angle, measure, *, cores=None, positions=POSITIONS):
    """Move every member of a family through the same input angles and measure it, piece by piece.

    Parameters
    ----------
    build : callable
        A builder such as `four_bar`, called with the entries of `lengths` as arrays of shape (n, 1).
    lengths : dict of str to float array
        Metres; each a number or an array of shape (N,). Members that never close are nan.
    input_angle : float array
        Shape (M,), radians, for every member.
    measure : callable
        Takes the `Motion` of n members, arrays of shape (n, M), and returns an array whose first axis is n.
    cores : int, optional
        How many threads; all cores if not given. numpy lets them run side by side.
    positions : int
        How many positions are in hand at once on a core; fewer are better for a measure that needs many arrays.

    Returns
    -------
    array
        What `measure` returned, joined along the first axis: shape (N, ...).

    Examples
    --------
    >>> import linkkit as lk, numpy as np
    >>> swing = lambda motion: np.ptp(motion.angle("rocker"), axis=-1)
    >>> survey(lk.four_bar, dict(ground=0.4, crank=[0.1, 0.12], coupler=0.35, rocker=0.25),
    ...        np.linspace(0, 6.28, 64), swing).round(2)
    array([0.83, 1.  ])
    """
    columns = {name: np.atleast_1d(real(x, f"{name} must be a length in metres")) for name, x in lengths.items()}
    sizes = {len(x) for x in columns.values()} - {1}
    if len(sizes) > 1:
        raise LinkageError(f"the lengths of a family must be arrays of one size, not of {sorted(sizes)}")
    angles = np.atleast_1d(real(input_angle, "an input must be a number or an array of numbers (radians or metres)"))
    count = max(sizes, default=1) if 0 not in sizes else 0
    if not count or not len(angles):
        raise LinkageError("a survey needs at least one member and one value of the input")
    width = max(1, positions // len(angles))

    def block(start):
        """Build many members at once, then move as many of them at a time as the cache holds."""
        stop = min(start + BLOCK * width, count)
        part = {
            n: np.broadcast_to(x if len(x) == 1 else x[start:stop], stop - start)[:, None] for n, x in columns.items()
        }
        family = build(**part)
        pieces = (slice(n, n + width) for n in range(0, stop - start, width))
        return np.concatenate([measure(move(members(family, piece), angles)) for piece in pieces])

    with ThreadPoolExecutor(cores or os.cpu_count()) as pool:
        return np.concatenate(list(pool.map(block, range(0, count, BLOCK * width))))


def members(family, part):
    """Some members of a family (a slice of its first axis), taken over as they are, without checking them again."""
    cut = lambda x: x[part] if np.ndim(x) else x  # noqa: E731
    some = object.__new__(Linkage)
    some.__dict__.update({name: getattr(family, name) for name in family.__dataclass_fields__})
    some.__dict__["points"] = {p: cut(z) for p, z in family.points.items()}
    some.__dict__["slides"] = tuple(
        replace(s, through=cut(s.through), direction=cut(s.direction)) for s in family.slides
    )
    some.__dict__["_groups"] = tuple(replace(g, side=cut(g.side)) for g in linkage_groups(family))
    some.__dict__["carriers"] = family.carriers
    return some
