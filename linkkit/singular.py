"""Singular positions: where some links stand so that the inputs do not decide their rates.

Such a position is a dead centre, where a rate grows without bound as it is approached, or a change point,
where the rates have one and the same limit from both sides. The limit is found from positions a little to each side.
"""

from __future__ import annotations

import numpy as np

from .change_points import STENCIL, flips_of

STEADY = 0.05  # of its size: how far two estimates of a limit may lie apart
NOTHING = 1e-6
SIDES = np.array([-2.0, -1.0, 1.0, 2.0])


def mend(rates, order, coefficients):
    """Put the limit of the coefficients in at singular positions, where there is one."""
    if len(rates.shape) > 1:
        return
    spots = np.flatnonzero(rates.singular)
    beside = getattr(beside_of(rates, spots), order)
    unit = _unit(rates, order)
    for old, new, size in ((coefficients.v, beside.v, rates.extent * unit), (coefficients.w, beside.w, unit)):
        flat = old.reshape(*old.shape[:2], -1)
        here = flat[..., spots]
        flat[..., spots] = np.where(np.isnan(here), limit(new, size), here)


def _unit(rates, order):
    """The size of an angular coefficient of that order: 1, or one over the extent for each metre of the input."""
    i = next(i for i in rates.linkage.inputs if i.name == rates.drive)
    return 1.0 if i.kind == "angle" else rates.extent ** -(1 if order == "first" else 2)


def beside_of(rates, spots):
    """The rates at four positions around each of some positions: shape (spots, 4), in the order of `SIDES`."""
    linkage, drive = rates.linkage, rates.drive
    inputs = {name: np.broadcast_to(v, rates.shape).ravel()[spots][:, None] for name, v in rates.places.inputs.items()}
    inputs = {name: v[0, 0] if np.ptp(v) == 0 and name != drive else v for name, v in inputs.items()}
    inputs[drive] = inputs[drive] + STENCIL * SIDES
    places, _ = flips_of(linkage, drive, inputs)
    return type(rates)(places, inputs[drive].shape)


def limit(beside, unit):
    """The common limit of values to both sides (last axis, as in `SIDES`); nan where there is none.

    `unit` is the size that such a value may have; a millionth of it counts as nothing. A value that has a limit changes half as much from side to side at half the distance; one that leaps, or grows
    without bound, does not.
    """
    far, near = (beside[..., [0, 3]], beside[..., [1, 2]])
    value = (4 * near.sum(axis=-1) - far.sum(axis=-1)) / 6
    size = STEADY * (np.abs(value) + np.abs(near).max(axis=-1)) + NOTHING * unit
    steady = np.abs(value - near.mean(axis=-1)) <= size
    leap, wider = (np.abs(x[..., 1] - x[..., 0]) for x in (near, far))
    return np.where(steady & ((leap <= 0.75 * wider) | (leap < NOTHING * unit)), value, np.nan)
