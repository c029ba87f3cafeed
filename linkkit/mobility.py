"""How many freedoms a linkage has: by counting, and truly, by the rank of its constraint equations."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .errors import LinkageError
from .linkage import is_family, known
from .placing import Places

FLAT = 1e-9  # a singular value below this, relative to the largest, counts as zero


@dataclass(frozen=True)
class Freedom:
    """The freedom of a linkage: `count` by Kutzbach's formula, `true` by rank, `redundant` equations, `idle` links."""

    count: int
    true: int
    redundant: int
    idle: tuple
    note: str


def mobility(linkage) -> int:
    """The mobility by Kutzbach's count: 3 (links - 1) - 2 (pairs), for turning and sliding pairs in the plane.

    A pin that carries k links is k - 1 turning pairs. The count is blind to special proportions; `freedom` is not.

    Examples
    --------
    >>> import linkkit as lk
    >>> lk.mobility(lk.four_bar(0.4, 0.1, 0.35, 0.25))
    1
    """
    return 3 * (len(known(linkage).links) - 1) - 2 * len(linkage.pairs)


def freedom(linkage) -> Freedom:
    """Count and true freedom, with the reason in a sentence where they differ.

    The true freedom is 3 (links - 1) less the rank of the Jacobian of the pairs, taken at several positions so that
    a position that is special by chance does not count. Without an input only the sketch is looked at.

    Examples
    --------
    >>> import linkkit as lk
    >>> freedom(lk.four_bar(0.4, 0.1, 0.35, 0.25)).true
    1
    """
    if is_family(linkage):
        raise LinkageError("freedom is found for one linkage at a time, not for a family")
    count, unknowns = mobility(linkage), 3 * len(linkage.moving)
    jacobians = [_jacobian(linkage, places) for places in _positions(linkage)]
    rank = max(map(_rank, jacobians))
    idle = tuple(link for n, link in enumerate(linkage.moving) if _is_idle(jacobians, n))
    true, redundant = unknowns - rank, 2 * len(linkage.pairs) - rank
    return Freedom(count, true, redundant, idle, _note(count, true, redundant, idle))


def _note(count, true, redundant, idle):
    said = []
    if redundant:
        said.append(
            f"{redundant} of the pairs' equations say nothing new, because of special proportions: "
            f"the count is {count}, the true freedom {true}"
        )
    if idle:
        said.append(
            f"{' and '.join(idle)} can move by {'themselves' if len(idle) > 1 else 'itself'} while every other link "
            f"stands still: of {true} freedoms only {true - len(idle)} reach the rest of the linkage"
        )
    return "; ".join(said) or _plain(count)


def _plain(count):
    if count <= 0:
        return (
            "a structure: it cannot move" if count == 0 else "a structure with more pairs than it needs: it cannot move"
        )
    return "one input decides every position" if count == 1 else f"{count} inputs are needed to decide every position"


def _positions(linkage):
    """Some places of the linkage: as sketched, and around a cycle where the inputs move it."""
    yield _sketched(linkage)
    try:
        from .motion import move

        motions = [move(linkage, steps=11, drive=i.name) for i in linkage.inputs]
    except LinkageError:
        return
    for motion in motions:
        for n in np.flatnonzero(motion.ok):
            yield _frozen(linkage, motion, int(n))


def _sketched(linkage):
    places = Places.__new__(Places)
    places.linkage, places.inputs = linkage, {}
    places.u = dict.fromkeys(linkage.links, 1 + 0j)
    places.anchor = dict.fromkeys(linkage.links, (0j, 0j))
    return places


def _frozen(linkage, motion, n):
    places = _sketched(linkage)
    places.u = {k: complex(motion.rotation(k)[n]) for k in linkage.links}
    places.anchor = {k: (0j, complex(motion.place(k, 0j)[n])) for k in linkage.links}
    return places


def _rank(jacobian):
    return (
        int(np.linalg.matrix_rank(jacobian, tol=FLAT * max(1.0, np.linalg.norm(jacobian, 2)))) if jacobian.size else 0
    )


def _jacobian(linkage, places):
    """The Jacobian of all pairs, angles scaled by the extent of the sketch: rows of equations, three columns a link."""
    from .constraint import Guide, Pin

    extent = max([abs(z) for z in linkage.points.values()] + [1e-300])
    rows = []
    for pair in linkage.pairs:
        equation = (Pin if pair.kind == "turning" else Guide)(pair.at, *pair.links)
        block = np.zeros((2, 3 * len(linkage.moving)))
        for link in pair.links:
            if link != linkage.fixed:
                n = 3 * linkage.moving.index(link)
                block[:, n : n + 3] = equation.block(places, link)
        rows.append(block)
    made = np.vstack(rows) if rows else np.zeros((0, 3 * len(linkage.moving)))
    made[:, 2::3] /= extent
    return made


def _is_idle(jacobians, n):
    """Whether a link can move while all others stand still, wherever the linkage is."""
    return all(np.linalg.matrix_rank(j[:, 3 * n : 3 * n + 3], tol=FLAT) < 3 for j in jacobians)


def too_many_inputs(linkage) -> str | None:
    """What is wrong if there are more inputs than freedoms, in a sentence; None if there are not."""
    free = 3 * len(linkage.moving) - _rank(_jacobian(linkage, _sketched(linkage)))
    if len(linkage.inputs) <= free:
        return None
    if free == 0:
        return "the linkage is a structure, which cannot move: leave out a pair, or the input"
    names = " and ".join(i.name for i in linkage.inputs)
    return f"inputs {names} are {len(linkage.inputs)} for {free} freedom{'s' * (free != 1)}: leave out all but {free}"
