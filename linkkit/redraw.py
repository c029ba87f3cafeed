"""Redrawing a sketch with another length, on the same circuit."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import replace

import numpy as np

from .breakdown import linkage_groups, resketched
from .errors import LinkageError
from .linkage import is_family
from .placing import sketched
from .quantity import positive


def with_length(linkage, p, q, metres):
    """See `Linkage.with_length`."""
    linkage._know_points(p, q)
    carriers = [link for link, carried in linkage.links.items() if p in carried and q in carried]
    if not carriers or p == q:
        raise LinkageError(f"no link carries both {p} and {q}, so there is no length between them to change")
    if is_family(linkage):
        raise LinkageError("a length is changed for one linkage at a time, not for a family: build the family anew")
    length = positive(metres, f"the length {p}{q} must be a number of metres")
    if np.ndim(length):
        raise LinkageError(f"the length {p}{q} must be one number, not an array: build a family with a builder")
    apart = linkage.points[q] - linkage.points[p]
    spot = linkage.points[p] + apart / np.abs(apart) * length
    if len(linkage.carriers[q]) == len(carriers):  # nothing else is pinned there: only the point moves
        return replace(linkage, points=linkage.points | {q: spot})
    shapes = {(link, q): spot for link in carriers}
    redrawn = _assembled(linkage, replace(linkage, shapes=shapes))
    if redrawn is None:
        raise LinkageError(
            f"with {p}{q} = {length:.6g} m the linkage cannot be assembled on this circuit at any input: "
            f"{p}{q} was {linkage.length(p, q):.6g} m; try a length nearer to that"
        )
    return redrawn


def offset(linkage, slide) -> float:
    """How far the line of a slide passes from the first pin of its guide (metres; positive to the left of the line's
    direction as seen from the pin).

    Examples
    --------
    >>> import linkkit as lk
    >>> from linkkit.redraw import offset
    >>> offset(lk.slider_crank(0.1, 0.3, offset=0.05), "slide")
    0.05
    """
    s, pin = _slide_and_pin(linkage, slide)
    return float(((s.through - linkage.points[pin]) * np.conj(s.direction)).imag)


def with_offset(linkage, slide, metres):
    """The linkage with a slide of the fixed link set nearer to or farther from the first pin, on the same circuit.

    Raises
    ------
    LinkageError
        If the slide is not on the fixed link or there is no position that can be assembled.

    Examples
    --------
    >>> import linkkit as lk
    >>> from linkkit.redraw import with_offset
    >>> aside = with_offset(lk.slider_crank(0.1, 0.3), "slide", 0.1)
    >>> round(lk.facts(aside).time_ratio, 3) == round(lk.facts(lk.slider_crank(0.1, 0.3, offset=0.1)).time_ratio, 3)
    True
    """
    s, _ = _slide_and_pin(linkage, slide)
    if s.on != linkage.fixed:
        raise LinkageError(f"the guide of {slide} is on {s.on}, which moves: only a fixed guide can be set aside")
    shift = 1j * s.direction * (metres - offset(linkage, slide))
    shapes = {(s.on, p): linkage.points[p] - shift for p in linkage.links[s.on]}
    back = _assembled(linkage, replace(linkage, shapes=shapes))
    if back is None:
        raise LinkageError(f"with an offset of {metres:.6g} m the linkage cannot be assembled at any input")
    points = {p: z + shift for p, z in back.points.items()}
    return replace(back, points=points, slides=tuple(replace(k, through=k.through + shift) for k in back.slides))


def _slide_and_pin(linkage, slide):
    s = next((s for s in linkage.slides if s.name == slide), None)
    if s is None or not linkage.links[s.on]:
        raise LinkageError(f"there is no slide {slide!r} whose guide carries a pin to measure an offset from")
    return s, linkage.links[s.on][0]


def _assembled(linkage, changed):
    """The sketch of the changed linkage, at the input value nearest to the sketched one at which it closes; else None."""
    changed.__dict__["_groups"] = linkage_groups(linkage)  # the circuit of the old sketch
    motion = _closing(changed) if linkage.inputs else None
    if motion is None:
        return None
    n = int(np.argmax(motion.ok))
    points = {}
    for point, carriers in linkage.carriers.items():
        at = motion.place(carriers[0], changed.shape(carriers[0], point))
        points[point] = at[..., n]
    slides = tuple(_carried_slide(motion, s, n) for s in linkage.slides)
    redrawn = replace(linkage, points=points, slides=slides)
    _hand_on(changed, redrawn)
    return redrawn


def _closing(changed):
    """The motion at the sketched input value if it closes there, else at values ever farther from it; None if at none."""
    from .motion import move

    for values in _candidates(changed):
        motion = move(changed, values)
        if np.any(motion.ok):
            return motion
    return None


def _hand_on(changed, redrawn):
    """Give a new sketch what was found for the old one and holds for both, so that it is not searched for again."""
    with suppress(LinkageError):  # a sketch in a limit position: said when it is moved
        old, new = linkage_groups(changed), resketched(redrawn, linkage_groups(changed))
        redrawn.__dict__["_groups"] = new
        if redrawn.inputs[0].kind == "angle" and all(a.side == b.side for a, b in zip(old, new, strict=True)):
            redrawn.__dict__["_change_points"] = dict(changed.__dict__.get("_change_points", {}))


def _carried_slide(motion, s, n):
    """The slide as its guide now carries it."""
    through = motion.place(s.on, s.through)[..., n]
    direction = (motion.rotation(s.on) * s.direction)[..., n]
    return replace(s, through=complex(through), direction=complex(direction / abs(direction)))


def _candidates(linkage):
    """Values of the first input: the sketched one; then that and ever farther ones."""
    i = linkage.inputs[0]
    here = float(sketched(linkage, i))
    yield np.array([here])
    far = np.pi if i.kind == "angle" else max(abs(z) for z in linkage.points.values())
    away = np.linspace(0, far, 181)[1:]
    values = np.concatenate([[here], np.ravel(np.column_stack([here + away, here - away]))])
    if i.span is not None:
        low, high = sorted(i.span)
        values = values[(values >= low) & (values <= high)] if low <= here <= high else values
    yield values
