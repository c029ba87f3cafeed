"""Singular positions: where some links stand so that the inputs do not decide their rates.

Such a position is a dead centre, where a rate grows without bound as it is approached, or a change point,
where the rates have one and the same limit from both sides. The limit is found from positions a little to each side.
"""

from __future__ import annotations

import numpy as np

from .change_points import AROUND, MIDDLE, flips_of, near_change

BAND = 2e-3  # radians or extents: nearer to a change point, equations solved there have lost half their digits
STEADY = 0.05  # of its size: how far two estimates of a limit may lie apart
NOTHING = 1e-6
SIDES = 6e-3 * AROUND  # radians or extents: so far off, a change point leaves the rates ten digits


def mend(rates, order, coefficients):
    """Put the limit of the coefficients in at singular positions, where there is one, and close by change points."""
    if len(rates.shape) > 1:
        return
    close = near_change(rates.linkage, rates.drive, rates.places.inputs, rates.shape, BAND)
    spots = np.flatnonzero(rates.singular | close)
    if not len(spots):
        return
    beside = getattr(beside_of(rates, spots), order)
    unit = _unit(rates, order)
    for old, new, size in ((coefficients.v, beside.v, rates.extent * unit), (coefficients.w, beside.w, unit)):
        flat = old.reshape(*old.shape[:2], -1)
        here = flat[..., spots]
        found = limit(new, size)
        flat[..., spots] = np.where(np.isnan(here) | (close.ravel()[spots] & np.isfinite(found)), found, here)


def _unit(rates, order):
    """The size of an angular coefficient of that order: 1, or one over the extent for each metre of the input."""
    i = next(i for i in rates.linkage.inputs if i.name == rates.drive)
    return 1.0 if i.kind == "angle" else rates.extent ** -(1 if order == "first" else 2)


def beside_of(rates, spots):
    """The rates at six positions around each of some positions: shape (spots, 6), in the order of `SIDES`."""
    places = places_beside(rates.linkage, rates.drive, rates.places.inputs, rates.shape, spots)
    return type(rates)(places, (len(spots), len(SIDES)))


def places_beside(linkage, drive, inputs, shape, spots):
    """The places at six positions around each of some positions of a cycle, along the driving input."""
    inputs = {name: np.broadcast_to(v, shape).ravel()[spots][:, None] for name, v in inputs.items()}
    inputs = {name: v[0, 0] if np.ptp(v) == 0 and name != drive else v for name, v in inputs.items()}
    inputs[drive] = inputs[drive] + SIDES
    return flips_of(linkage, drive, inputs)[0]


def limit(beside, unit):
    """The common limit of values to both sides (last axis, as in `SIDES`); nan where there is none.

    `unit` is the size that such a value may have; a millionth of it counts as nothing. A value that has a limit
    changes a third as much from side to side at a third of the distance; one that leaps, or grows without bound,
    does not.
    """
    far, near, value = beside[..., [0, 5]], beside[..., [2, 3]], beside @ MIDDLE
    size = STEADY * (np.abs(value) + np.abs(near).max(axis=-1)) + NOTHING * unit
    steady = np.abs(value - near.mean(axis=-1)) <= size
    leap, wider = (np.abs(x[..., 1] - x[..., 0]) for x in (near, far))
    return np.where(steady & ((leap <= 0.75 * wider) | (leap < NOTHING * unit)), value, np.nan)


def sentences(motion) -> list:
    """What must be said about a motion's singular positions, a sentence for each group of links."""
    said = []
    for part in motion.rates.parts:
        here = np.flatnonzero(np.broadcast_to(part.singular, motion.shape) & motion.ok)
        if len(here):
            said.append(_sentence(motion, part.block.links, here))
    return said


def _sentence(motion, links, here):
    first = motion.rates.first
    rates = [first.w[:, first.links.index(link)].reshape(len(first.w), -1)[:, here] for link in links]
    unit = "rad" if next(i for i in motion.linkage.inputs if i.name == motion.drive).kind == "angle" else "m"
    spots = ", ".join(f"{x:.6g}" for x in np.ravel(motion.input)[here][:4]) + (", …" if len(here) > 4 else "")
    end = (
        "their rates there are the limit from both sides"
        if np.isfinite(rates).all()
        else "their rates grow without bound as it is approached, and are not given there (nan)"
    )
    return f"{' and '.join(links)} stand in a singular position at {motion.drive} = {spots} {unit}: {end}"
