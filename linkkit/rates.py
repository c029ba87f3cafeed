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

from .constraint import Drive, blocks
from .elimination import Factors, is_zero, less, plan_of

SINGULAR = 1e-6  # a core whose determinant is smaller, in units of the linkage's extent, has no inverse to be trusted


class Coefficients:
    """Rates of all moving links, stacked: `v` complex and `w` float, shape (terms, links) + positions.

    `v` is the velocity of a link's anchor and `w` its angular velocity, per unit of each term.
    """

    def __init__(self, links, v, w):
        self.links, self.v, self.w = links, v, w

    def term(self, number) -> dict:
        """{link: (velocity of the anchor, angular velocity)} of one term."""
        return {link: (self.v[number, n], self.w[number, n]) for n, link in enumerate(self.links)}

    def picked(self, numbers) -> dict:
        """The same with the terms of those numbers along the first axis."""
        numbers = slice(None) if len(numbers) == len(self.v) else numbers
        return {link: (self.v[numbers, n], self.w[numbers, n]) for n, link in enumerate(self.links)}


class Part:
    """One group's equations at the positions: their entries for each link, and the factors of the group's own ones."""

    def __init__(self, places, block, shape, extent):
        self.block = block
        self.entries = {
            eq: {k: eq.block(places, k) for k in dict.fromkeys((eq.a, eq.b)) if k != places.linkage.fixed}
            for eq in block.equations
        }
        self.column = {link: 3 * n for n, link in enumerate(block.links)}
        rows = [row for eq in block.equations for row in self._rows(eq)]
        self.factors = Factors(plan_of(rows), rows, shape)
        self.extent = extent

    def known(self, eq):
        """The links of an equation that an earlier part places."""
        return [link for link in self.entries[eq] if link not in self.column]

    @cached_property
    def singular(self):
        """Where the group stands in a singular position: bool, or an array over the positions."""
        core = self.factors.plan
        if not core.columns or len(core.columns) != len(core.rows):
            return np.False_
        if len(core.rows) > 2:
            return self._lost()
        metres = sum(self._in_metres(r) for r in core.rows) - sum(c % 3 < 2 for c in core.columns)
        return np.abs(self.factors.determinant) < SINGULAR * self.extent**metres

    def _lost(self):
        """The same for a larger core, by the size of its inverse."""
        worst = np.max([np.abs(x) for row in self.factors.inverse for x in row], axis=0)
        core = [abs(x) for row in self.factors.core for x in row if not is_zero(x)]
        return ~(worst * np.max(np.broadcast_arrays(*core), axis=0) < 1 / SINGULAR)

    def _in_metres(self, row):
        """Whether a row is an equation between lengths, not between angles."""
        sizes = [(eq, i) for eq in self.block.equations for i in range(eq.size)]
        eq, i = sizes[row]
        return eq.in_metres[i]

    def _rows(self, eq):
        rows = [{} for _ in range(eq.size)]
        for link, entries in self.entries[eq].items():
            if link in self.column:
                for row, entry in zip(rows, entries, strict=True):
                    row.update({self.column[link] + j: x for j, x in enumerate(entry) if not is_zero(x)})
        return rows


class Rates:
    """First- and second-order coefficients of all links at the positions of some `Places`.

    Where a group stands in a singular position the coefficients are their limit, if it is the same from both sides
    along the input `drive`, and nan if not.
    """

    def __init__(self, places, shape, drive=None):
        self.places, self.shape, self.drive = places, shape, drive
        self.linkage = places.linkage
        self.names = [i.name for i in self.linkage.inputs]
        self.pairs = list(combinations_with_replacement(range(len(self.names)), 2))
        self.extent = extent_of(self.linkage)

    @cached_property
    def parts(self):
        """The equations of each group, factorised."""
        return [Part(self.places, block, self.shape, self.extent) for block in blocks(self.linkage)]

    @cached_property
    def singular(self):
        """Where some group stands in a singular position (bool array)."""
        found = np.zeros(self.shape, dtype=bool)
        for part in self.parts:
            found |= part.singular
        return found

    @cached_property
    def first(self) -> Coefficients:
        """Per unit speed of each input."""
        unit = np.eye(len(self.names)).reshape(len(self.names), -1, *(1,) * len(self.shape))
        wanted = lambda eq: [unit[:, self.names.index(eq.input.name)]] if isinstance(eq, Drive) else [0] * eq.size  # noqa: E731
        return self._mended("first", self._solve(wanted, len(self.names)))

    @cached_property
    def second(self) -> Coefficients:
        """Per product of speeds of each pair of inputs, in the order of `pairs`."""
        one, two = (self.first.picked([pair[n] for pair in self.pairs]) for n in (0, 1))
        one[self.linkage.fixed] = two[self.linkage.fixed] = 0, 0
        wanted = lambda eq: [less(0, 1, x) for x in eq.bias(self.places, one, two)]  # noqa: E731
        return self._mended("second", self._solve(wanted, len(self.pairs)))

    def velocity(self, speeds) -> dict:
        """{link: (velocity of the anchor, angular velocity)} for the speeds of the inputs (rad/s or m/s)."""
        return self._combined([(self.first, self.names.index(name), s) for name, s in speeds.items()])

    def acceleration(self, speeds, accelerations) -> dict:
        """{link: (acceleration of the anchor, angular acceleration)} for speeds and accelerations of the inputs."""
        terms = [(self.first, self.names.index(name), a) for name, a in accelerations.items()]
        weights = [self.weight(pair, speeds) for pair in self.pairs]
        return self._combined(terms + [(self.second, n, w) for n, w in enumerate(weights) if np.any(w)])

    def weight(self, pair, speeds):
        """What a second-order term is multiplied by: the product of the two speeds, twice if they differ."""
        p, q = (self.names[n] for n in pair)
        return (1 if p == q else 2) * np.asarray(speeds.get(p, 0.0)) * speeds.get(q, 0.0)

    def _combined(self, terms):
        v = w = 0.0
        for n, (coefficients, number, weight) in enumerate((c, k, x) for c, k, x in terms if np.any(x)):
            v = weight * coefficients.v[number] + (v if n else 0)
            w = weight * coefficients.w[number] + (w if n else 0)
        links = [link for link in self.linkage.links if link != self.linkage.fixed]
        still = dict.fromkeys(self.linkage.links, (0.0, 0.0))
        return still if np.ndim(v) == 0 else still | {k: (v[n], w[n]) for n, k in enumerate(links)}

    def _solve(self, wanted, terms):
        rates = {}
        for part in self.parts:
            right = []
            for eq in part.block.equations:
                here = wanted(eq)
                for link in part.known(eq):
                    here = [_reduced(x, e, rates[link]) for x, e in zip(here, part.entries[eq][link], strict=True)]
                right += here
            found = part.factors.solve(right)
            if np.any(part.singular):
                found = [np.where(part.singular, np.nan, x) for x in found]
            rates |= {link: found[c : c + 3] for link, c in part.column.items()}
        return self._stacked(rates, terms)

    def _stacked(self, rates, terms):
        links = self.linkage.moving
        v = np.empty((terms, len(links), *self.shape), dtype=complex)
        w = np.empty(v.shape)
        for n, link in enumerate(links):
            v.real[:, n], v.imag[:, n], w[:, n] = rates[link]
        return Coefficients(links, v, w)

    def _mended(self, order, coefficients):
        if self.drive is not None and (self.singular.any() or self.linkage.__dict__.get("_change_points")):
            from .singular import mend

            mend(self, order, coefficients)
        return coefficients


def extent_of(linkage):
    """The greatest distance of a sketched point from the origin, metres; worked out once."""
    if "_extent" not in linkage.__dict__:
        linkage.__dict__["_extent"] = max(
            (np.fmax.reduce(np.abs(z), axis=None, initial=0.0) for z in linkage.points.values()), default=1.0
        )
    return linkage.__dict__["_extent"]


def _reduced(total, entries, rate):
    """The right-hand side less what the known rate of a link contributes to it."""
    for entry, x in zip(entries, rate, strict=True):
        total = less(total, entry, x)
    return total
