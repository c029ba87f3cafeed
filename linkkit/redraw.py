"""Redrawing a sketch with another length, on the same circuit."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from .breakdown import linkage_groups
from .errors import LinkageError
from .linkage import is_family
from .placing import sketched


def with_length(linkage, p, q, metres):
    """See `Linkage.with_length`."""
    linkage._know_points(p, q)
    carriers = [link for link, carried in linkage.links.items() if p in carried and q in carried]
    if not carriers or p == q:
        raise LinkageError(f"no link carries both {p} and {q}, so there is no length between them to change")
    length = _checked(p, q, metres)
    apart = linkage.points[q] - linkage.points[p]
    spot = linkage.points[p] + apart / np.abs(apart) * length
    if len(linkage.carriers[q]) == len(carriers):  # nothing else is pinned there: only the point moves
        return replace(linkage, points=linkage.points | {q: spot})
    shapes = {(link, q): spot for link in carriers}
    return _assembled(linkage, replace(linkage, shapes=shapes), f"{p}{q}", length)


def _checked(p, q, metres):
    try:
        length = np.asarray(metres, dtype=float)
    except (TypeError, ValueError):
        raise LinkageError(f"the length {p}{q} must be a number of metres, not {metres!r}") from None
    if not np.all(np.isfinite(length)) or np.any(length <= 0):
        raise LinkageError(f"the length {p}{q} must be finite and more than zero, not {metres!r} m")
    return length[()]


def _assembled(linkage, changed, name, length):
    """The sketch of the changed linkage, at the input value nearest to the sketched one at which it closes."""
    changed.__dict__["_groups"] = linkage_groups(linkage)  # the circuit of the old sketch
    values = _candidates(linkage)
    from .motion import move

    motion = move(changed, values) if linkage.inputs else None
    if motion is None or not np.any(motion.ok):
        raise LinkageError(
            f"with {name} = {length:.6g} m the linkage cannot be assembled on this circuit at any input: "
            f"{name} was {abs(linkage.length(*_split(linkage, name))):.6g} m; try a length nearer to that"
        )
    n = int(np.argmax(motion.ok)) if not is_family(linkage) else 0
    points = {}
    for point, carriers in linkage.carriers.items():
        at = motion.place(carriers[0], changed.shape(carriers[0], point))
        points[point] = at[..., n]
    slides = tuple(_carried_slide(motion, s, n) for s in linkage.slides)
    return replace(linkage, points=points, slides=slides)


def _split(linkage, name):
    return next((p, q) for p in linkage.points for q in linkage.points if p + q == name)


def _carried_slide(motion, s, n):
    """The slide as its guide now carries it."""
    through = motion.place(s.on, s.through)[..., n]
    direction = (motion.rotation(s.on) * s.direction)[..., n]
    return replace(s, through=complex(through), direction=complex(direction / abs(direction)))


def _candidates(linkage):
    """Values of the first input: the sketched one, then ever farther from it."""
    i = linkage.inputs[0]
    here = float(sketched(linkage, i))
    if is_family(linkage):
        return np.array([here])
    if i.kind == "angle":
        away = np.radians(np.arange(1, 181))
    else:
        away = np.linspace(0, max(abs(z) for z in linkage.points.values()), 181)[1:]
    values = np.concatenate([[here], np.ravel(np.column_stack([here + away, here - away]))])
    if i.span is not None:
        low, high = sorted(i.span)
        values = values[(values >= low) & (values <= high)] if low <= here <= high else values
    return values
