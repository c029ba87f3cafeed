"""Placing by Newton's method what has no closed form: every position at once, started from a trace of the circuit."""

from __future__ import annotations

import numpy as np

from .errors import LinkageError
from .linkage import is_family
from .placing import sketched

ROUNDS = 8
ROUNDING = 1e-16
FAR = 1e9  # a step this many times what is left of the equations says that they are all but singular


def place(places, group):
    """Place the links of a group at every position; nan where the sketch's circuit does not reach."""
    linkage = places.linkage
    if is_family(linkage):
        raise LinkageError(
            f"{' and '.join(group.links)} have no closed form: they are moved for one linkage at a time, not a family"
        )
    values = np.broadcast_arrays(*places.inputs.values())
    shape, flat = values[0].shape, dict(zip(places.inputs, (v.ravel() for v in values), strict=True))
    found = _poses(linkage, group, flat)
    for n, link in enumerate(group.links):
        x, y, turn = (found[:, 3 * n + j].reshape(shape) for j in range(3))
        places.anchor[link] = (mark(linkage, link), x + 1j * y)
        places.u[link] = np.exp(1j * turn)


def _poses(linkage, group, flat):
    """The poses at inputs of one axis: on the trace of one of them, or step by step if several vary."""
    varying = [name for name, v in flat.items() if len(v) and np.ptp(v) > 0] or list(flat)[:1]
    if len(varying) > 1:
        from .tracing import walked

        return walked(linkage, group, flat)
    held = {name: float(v[0]) for name, v in flat.items() if len(v) and name != varying[0]}
    return _traced(linkage, group, varying[0], held).poses(flat[varying[0]])


def _traced(linkage, group, lead, held):
    """The trace of the circuit along one input, kept with the linkage."""
    from .tracing import Trace

    kept = linkage.__dict__.setdefault("_traces", {})
    key = (group.links, lead, *held.items())
    if key not in kept:
        kept[key] = Trace(linkage, group, lead, held)
    return kept[key]


def mark(linkage, link):
    """The sketch point by which a link without a closed form is placed."""
    carried = linkage.links[link]
    if carried:
        return linkage.shape(link, carried[0])
    return next(s.through for s in linkage.slides if link in (s.block, s.on))


def start_of(linkage) -> dict:
    """The inputs as sketched."""
    return {i.name: float(sketched(linkage, i)) for i in linkage.inputs}


def corrected(equations, pose, inputs):
    """Poses that close at the inputs given, by Newton's method from poses nearby; nan where it does not converge.

    `pose` is a float array, positions + (3 for each link): x and y of its mark, and its turn.
    """
    known = equations.known(inputs)
    for _ in range(ROUNDS):
        off = equations.off(pose, known)
        if not np.any(np.abs(off) > ROUNDING):
            break
        pose = pose - solved(equations.jacobian(pose, known), off)
    good = np.abs(equations.off(pose, known)).max(axis=-1) < equations.closed
    return np.where(good[..., None], pose, np.nan)


def solved(matrix, right):
    """The solution of each set of equations, the shortest one where it is all but singular; nan where not finite."""
    bad = ~(np.isfinite(matrix).all(axis=(-2, -1)) & np.isfinite(right).all(axis=-1))
    matrix = np.where(bad[..., None, None], np.eye(matrix.shape[-1]), matrix)
    right = np.where(bad[..., None], np.nan, right)
    try:
        found = np.linalg.solve(matrix, right[..., None])[..., 0]
    except np.linalg.LinAlgError:
        found = np.full_like(right, np.inf)
    wild = (np.abs(found) > FAR * np.abs(right).max(axis=-1, keepdims=True)).any(axis=-1) & ~bad
    if wild.any():
        found[wild] = (np.linalg.pinv(matrix[wild], rcond=1 / FAR) @ right[wild][..., None])[..., 0]
    return found
