"""Joint forces: the constraint equations transposed.

What a pair does to its two links is its equations' multipliers times the transpose of its Jacobian. The links of a
group are in equilibrium under that and the forces on them, the inertia forces among these; groups are taken in the
reverse of the order in which they are placed, since each leans on those before it.
Method: Lagrange multipliers with d'Alembert's principle, as in texts on computer-aided analysis of mechanical systems.
"""

from __future__ import annotations

import numpy as np

from .elimination import is_zero, less


class Wrenches:
    """A force and a moment on each link, reduced to its anchor: `columns` {link: [x, y, moment]}, zero where absent."""

    def __init__(self, places):
        self.places = places
        self.columns = {link: [0, 0, 0] for link in places.linkage.links}

    def add(self, link, x, y, moment):
        """Add a force (x, y) at the anchor and a moment about it."""
        self.columns[link] = [_plus(old, new) for old, new in zip(self.columns[link], (x, y, moment), strict=True)]

    def push(self, link, at, force, moment=0.0):
        """Add a complex force at a place, and a moment."""
        arm, force = at - self.places.anchor[link][1], np.asarray(force)
        self.add(link, force.real, force.imag, moment + (np.conj(arm) * force).imag)

    def append(self, other, terms, shape):
        """Add wrenches without an axis of terms as one more term after those there are."""
        for link, columns in self.columns.items():
            for n, (old, new) in enumerate(zip(columns, other.columns[link], strict=True)):
                if not (is_zero(old) and is_zero(new)):
                    columns[n] = np.empty((terms + 1, *shape))
                    columns[n][:terms], columns[n][terms] = old, new


def reactions(rates, wrenches) -> dict:
    """The multipliers of each pair and input: {equation: [arrays]}, one for each row, under the wrenches on the links.

    A pin has the force (x, y) on its link `a`; a slide the couple and the normal force on the block, to the left of its
    direction; an input the torque or force on its driven link. Terms along a leading axis are solved for together.
    `wrenches.columns` of links is used up; that of the fixed link is left with all that its pairs do to it added.
    """
    columns, found = wrenches.columns, {}
    for part in reversed(rates.parts):
        right = [less(0, 1, x) for link in part.block.links for x in columns[link]]
        rows = part.factors.solve_transposed(right)
        if np.any(part.singular):
            rows = [x if is_zero(x) else np.where(part.singular, np.nan, x) for x in rows]
        for eq in part.block.equations:
            found[eq], rows = rows[: eq.size], rows[eq.size :]
            for link in {eq.a, eq.b} - set(part.block.links):
                wrenches.add(link, *on_link(rates, part, eq, link, found[eq]))
    return found


def on_link(rates, part, eq, link, multipliers):
    """The force (x, y) at a link's anchor and the moment about it that an equation's multipliers make."""
    entries = part.entries[eq].get(link) or eq.block(rates.places, link)
    total = [0, 0, 0]
    for row, size in zip(entries, multipliers, strict=True):
        total = [less(old, -1, _product(x, size)) for old, x in zip(total, row, strict=True)]
    return total


def _product(a, b):
    return 0 if is_zero(a) or is_zero(b) else a * b


def _plus(a, b):
    if is_zero(b):
        return a
    return b if is_zero(a) else a + b


class Rows:
    """Multipliers as one array: `stack`, shape (terms, rows) + positions; the last three rows the wrench on the frame.

    `index` tells at which row each equation begins.
    """

    def __init__(self, rates, found, wrenches, terms):
        self.index, count = {}, 0
        for eq in found:
            self.index[eq] = count
            count += eq.size
        self.stack = np.empty((terms, count + 3, *rates.shape))
        for n, x in enumerate([x for rows in found.values() for x in rows]):
            self.stack[:, n] = x
        for n, x in enumerate(wrenches.columns[rates.linkage.fixed]):
            self.stack[:, count + n] = x

    def of(self, eq):
        """The multipliers of an equation, row by row."""
        return self.stack[self.index[eq] : self.index[eq] + eq.size]

    def weighted(self, weights) -> Rows:
        """The sum of the terms times their weights, without the axis of terms."""
        total = 0
        for weight, term in zip(weights, self.stack, strict=True):
            if np.any(weight):
                total = weight * term + total
        return self._with(total if np.ndim(total) else np.zeros_like(self.stack[0]))

    def changed(self, change) -> Rows:
        """The same with an array added to its stack."""
        return self._with(self.stack + change)

    def _with(self, stack):
        made = object.__new__(Rows)
        made.index, made.stack = self.index, stack
        return made
