"""The four-bar with a tracer as a row of numbers: its closed form over many rows, and least squares on the tracer's path.

A row holds ground, crank, coupler, rocker, the tracer along and across the coupler from the crank's pin, the frame's
angle, and the crank's pivot x, y; then the crank's angle to the ground at the first place, and the steps to the others.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ..dyads import rrr
from .four_bars import pinned_four_bar

NAMES = ("ground", "crank", "coupler", "rocker", "along", "across", "frame", "x", "y")
STEP = 1e-7


def bars(theta, ground, crank, coupler, rocker, side):
    """The crank's pin and the coupler's unit vector over crank angles, the ground along +x from 0; nan out of reach."""
    pin = crank * np.exp(1j * theta)
    with np.errstate(all="ignore"):
        joint = rrr(pin, ground + 0j, coupler * coupler, rocker * rocker, side)
        return pin, (joint - pin) / coupler


def turns_fully(ground, crank, coupler, rocker):
    """Whether the crank can turn all the way."""
    return (np.abs(ground - crank) > np.abs(coupler - rocker)) & (ground + crank < coupler + rocker)


@dataclass(frozen=True)
class Tracing:
    """Places that a tracer is to pass, in order: complex array; with the crank's steps between them if these are given.

    `sense` is +1 or -1 as the crank turns, `side` +1 or -1 as the circuit is open or crossed.
    """

    places: np.ndarray
    steps: np.ndarray | None
    sense: float
    side: float

    def angles(self, rows):
        """The crank's angle to the ground at each place: shape (..., places)."""
        steps = (
            rows[..., 10:] if self.steps is None else np.broadcast_to(self.steps, (*rows.shape[:-1], len(self.steps)))
        )
        return rows[..., 9:10] + np.concatenate([0 * rows[..., 9:10], np.cumsum(self.sense * steps, axis=-1)], axis=-1)

    def path(self, rows, theta):
        """The tracer at some crank angles (to the ground): complex array."""
        g, r, a, c, along, across, frame, x, y = (rows[..., n : n + 1] for n in range(9))
        pin, unit = bars(theta, g, r, a, c, self.side)
        return x + 1j * y + np.exp(1j * frame) * (pin + (along + 1j * across) * unit)

    def off(self, rows):
        """How far the tracer is from each place: complex array."""
        return self.path(rows, self.angles(rows)) - self.places

    def bounds(self, ranges, size):
        """The least and the greatest value of each number of a row."""
        low = [*[1e-3 * size] * 4, *[-np.inf] * 6]
        high = [*[1e2 * size] * 4, *[np.inf] * 6]
        for name, (least, most) in ranges.items():
            low[NAMES.index(name)], high[NAMES.index(name)] = least, most
        free = 0 if self.steps is not None else len(self.places) - 1
        return np.array([*low, *[1e-4] * free]), np.array([*high, *[np.pi] * free])

    def sketch(self, rows, theta=None):
        """O, A, B, Q and P at a crank angle (to the ground), at the first place if not given: complex array, shape (..., 5)."""
        g, r, a, c, along, across, frame, x, y = (rows[..., n] for n in range(9))
        pin, unit = bars(rows[..., 9] if theta is None else theta, g, r, a, c, self.side)
        local = np.stack([0j * pin, pin, pin + a * unit, g + 0j, pin + (along + 1j * across) * unit], axis=-1)
        return (x + 1j * y)[..., None] + np.exp(1j * frame)[..., None] * local

    def linkage(self, row, name="path tracer"):
        """The four-bar of a row, sketched at the place where its circuit shows best."""
        at = [self.sketch(row, theta) for theta in self.angles(row)]
        clear = [abs(((b - a) * np.conj(q - a)).imag) for _, a, b, q, _ in at]
        *pins, p = map(complex, at[int(np.nanargmax(clear))])
        return pinned_four_bar(*pins, tracer=p, name=name)

    def refined(self, row, ranges, size, *, most=400, extra=None):
        """The least squares from a row: scipy's trust region within bounds. `extra` adds residuals of its own to a row."""
        from scipy.optimize import least_squares

        low, high = self.bounds(ranges, size)
        free = np.flatnonzero(low < high)  # the rest has one value
        start, room = np.clip(row, low, high), 1e-9 * size
        start[free] = np.clip(row[free], low[free] + room, high[free] - room)
        if not np.isfinite(self._residuals(start[None], size, extra)).all():
            return row
        scale = np.array([size] * 6 + [1.0] + [size] * 2 + [1.0] * (len(row) - 9))

        def whole(x):
            made = start.copy()
            made[free] = x
            return made

        found = least_squares(
            lambda x: self._residuals(whole(x)[None], size, extra)[0], start[free],
            jac=lambda x: self._slopes(whole(x), scale, size, extra)[:, free], bounds=(low[free], high[free]),
            x_scale=scale[free], xtol=1e-15, ftol=1e-15, gtol=1e-15, max_nfev=most,
        )  # fmt: skip
        return whole(found.x)

    def _residuals(self, rows, size, extra):
        off = self.off(rows) / size
        parts = [off.real, off.imag] + ([] if extra is None else [extra(rows)])
        return np.concatenate(parts, axis=-1)

    def _slopes(self, x, scale, size, extra):
        step = STEP * np.diag(scale)
        ahead, behind = np.split(self._residuals(np.concatenate([x + step, x - step]), size, extra), 2)
        return np.nan_to_num((ahead - behind) / (2 * STEP * scale[:, None])).T
