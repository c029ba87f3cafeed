"""A four-bar from where its four pins stand, wherever its fixed pivots are."""

from __future__ import annotations

import numpy as np

from ..linkage import Input, Linkage


def pinned_four_bar(o, a, b, q, *, tracer=None, name="four-bar") -> Linkage:
    """The four-bar with pins at o, a, b, q (complex, metres; arrays make a family), the crank OA driving.

    `tracer`, a place in the same sketch, becomes the coupler's point P. Names as in `linkkit.four_bar`.

    Examples
    --------
    >>> round(pinned_four_bar(0, 0.1j, 0.3 + 0.2j, 0.3).length("A", "B"), 4)
    0.3162
    """
    points = {"O": o, "A": a, "B": b, "Q": q} | ({} if tracer is None else {"P": tracer})
    coupler = ("A", "B") if tracer is None else ("A", "B", "P")
    links = {"ground": ("O", "Q"), "crank": ("O", "A"), "coupler": coupler, "rocker": ("Q", "B")}
    turn = Input("crank", "angle", "O", ("ground", "crank"))
    return Linkage(points, links, "ground", inputs=(turn,), output="rocker", name=name)


def side(a, b, q):
    """+1 where B lies to the left of the ray from A to Q, else -1: which circuit, or branch, a position is on."""
    return np.sign(((b - a) * np.conj(q - a)).imag)


def coordinates(linkage) -> dict:
    """Where the points of a sketch lie, as values: metres, named like O.x."""
    parts = (("x", "real"), ("y", "imag"))
    return {f"{name}.{x}": float(getattr(z, part)) for name, z in linkage.points.items() for x, part in parts}
