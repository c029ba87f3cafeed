"""Kinematic coefficients: how every link moves for a unit rate of each input, first and second order.

The coefficients belong to the geometry alone. Velocities are the first-order ones times the speeds of the inputs;
accelerations the first-order ones times their accelerations plus the second-order ones times products of speeds.
So a change of speed solves nothing again.
Method: differentiation of the constraint equations, block by block in the order of the breakdown.
"""

from __future__ import annotations

from functools import cached_property
from itertools import combinations_with_replacement

import numpy as np

from .constraint import Drive, blocks, matrix


class Rates:
    """First- and second-order coefficients of all links at the positions of some `Places`.

    A rate of a link is a pair: the complex velocity of its anchor and its angular velocity, per unit of the input.
    """

    def __init__(self, places, shape):
        self.places, self.shape = places, shape
        self.names = [i.name for i in places.linkage.inputs]

    @cached_property
    def inverses(self):
        """For each block of equations, the inverse of its Jacobian; nan where it has none."""
        return [_inverse(matrix(self.places, block, self.shape)) for block in blocks(self.places.linkage)]

    @cached_property
    def first(self) -> dict:
        """Input name to {link: (velocity of the anchor, angular velocity)} per unit speed of that input."""
        return {name: self._solve(lambda eq, name=name: _unit_rate(eq, name)) for name in self.names}

    @cached_property
    def second(self) -> dict:
        """A pair of input names to {link: (acceleration of the anchor, angular acceleration)} per product of speeds."""
        return {
            (p, q): self._solve(
                lambda eq, p=p, q=q: [-b for b in eq.bias(self.places, self.first[p], self.first[q])]
            )
            for p, q in combinations_with_replacement(self.names, 2)
        }

    def velocity(self, speeds) -> dict:
        """{link: (velocity of the anchor, angular velocity)} for the speeds of the inputs (rad/s or m/s)."""
        return self._combine((speed, self.first[name]) for name, speed in speeds.items())

    def acceleration(self, speeds, accelerations) -> dict:
        """{link: (acceleration of the anchor, angular acceleration)} for speeds and accelerations of the inputs."""
        terms = [(a, self.first[name]) for name, a in accelerations.items()]
        for (p, q), rates in self.second.items():
            weight = (1 if p == q else 2) * np.asarray(speeds.get(p, 0.0)) * speeds.get(q, 0.0)
            if np.any(weight):
                terms.append((weight, rates))
        return self._combine(terms)

    def _combine(self, terms):
        total = {link: (0.0, 0.0) for link in self.places.linkage.links}
        for weight, rates in terms:
            if np.any(weight):
                total = {
                    k: (v + weight * rates[k][0], w + weight * rates[k][1]) for k, (v, w) in total.items()
                }
        return total

    def _solve(self, wanted):
        rates = {self.places.linkage.fixed: (0.0, 0.0)}
        for block, inverse in zip(blocks(self.places.linkage), self.inverses, strict=True):
            rows = []
            for eq in block.equations:
                here = [np.asarray(x) for x in wanted(eq)]
                for link in {eq.a, eq.b} - set(block.links):
                    here = [x - y for x, y in zip(here, self._effect(eq, link, rates[link]), strict=True)]
                rows += here
            right = np.stack(np.broadcast_arrays(*rows, np.zeros(self.shape))[:-1], axis=-1)
            found = (inverse @ right[..., None])[..., 0]
            for n, link in enumerate(block.links):
                rates[link] = (found[..., 3 * n] + 1j * found[..., 3 * n + 1], found[..., 3 * n + 2])
        return rates

    def _effect(self, eq, link, rate):
        """What the known rate of a link contributes to the rows of an equation."""
        v, w = rate
        if isinstance(v, float) and isinstance(w, float) and v == w == 0.0:
            return [0.0] * eq.size
        return [x * np.real(v) + y * np.imag(v) + turn * w for x, y, turn in eq.block(self.places, link)]


def _unit_rate(eq, name):
    return [1.0] if isinstance(eq, Drive) and eq.input.name == name else [0.0] * eq.size


def _inverse(jacobian):
    """The inverse of each matrix (the pseudo-inverse where equations are redundant), nan where it is singular."""
    bad = ~np.isfinite(jacobian).all(axis=(-2, -1))
    square = jacobian.shape[-1] == jacobian.shape[-2]
    jacobian = np.where(bad[..., None, None], np.eye(*jacobian.shape[-2:]), jacobian)
    try:
        found = np.linalg.inv(jacobian) if square else np.linalg.pinv(jacobian)
    except np.linalg.LinAlgError:
        singular = np.linalg.cond(jacobian) > 1e15
        bad = bad | singular
        found = np.linalg.inv(np.where(singular[..., None, None], np.eye(jacobian.shape[-1]), jacobian))
    return np.where(bad[..., None, None], np.nan, found) if bad.any() else found
