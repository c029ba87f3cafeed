"""Solving the constraint equations of a group of links, at all positions at once.

Most entries of such a Jacobian are 0, 1 or -1 and the same at every position. They are eliminated first, in an order
that is found once; no such step can fail. What is left over is the core: one equation for a dyad with a slide, two
for two bars, and its determinant vanishes just where the group stands in a singular position.
Method: Gaussian elimination in the order of least fill-in (H. M. Markowitz, Management Science 3, 1957).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np

VARIES = "varies"  # marks an entry that depends on the position


@dataclass(frozen=True)
class Plan:
    """The order of elimination: `pivots` are (row, column, sign, rows below), then the rows and columns of the core."""

    pivots: tuple
    rows: tuple
    columns: tuple


def plan_of(rows) -> Plan:
    """The plan for a matrix given as a list of rows {column: entry}; a whole number is the same at every position."""
    return _plan(tuple(tuple((c, x if type(x) is int else VARIES) for c, x in row.items()) for row in rows))


@lru_cache(maxsize=1000)
def _plan(pattern):
    left = {n: dict(row) for n, row in enumerate(pattern)}
    columns = {c for row in left.values() for c in row}
    pivots = []
    while best := _cheapest(left):
        r, c = best
        row = left.pop(r)
        below = tuple(n for n, other in left.items() if c in other)
        for n in below:
            _strike(left[n], row, c)
        pivots.append((r, c, row[c], below))
        columns.discard(c)
    return Plan(tuple(pivots), tuple(left), tuple(sorted(columns)))


def _cheapest(left):
    """The constant entry whose elimination makes the fewest new entries; None if there is none."""
    count = {}
    for row in left.values():
        for c in row:
            count[c] = count.get(c, 0) + 1
    spots = [(r, c) for r, row in left.items() for c, entry in row.items() if entry in (1, -1)]
    return min(spots, key=lambda at: (len(left[at[0]]) - 1) * (count[at[1]] - 1), default=None)


def _strike(target, row, c):
    """Take the row from the target so that column c vanishes, in whole numbers where both are."""
    factor = target.pop(c)
    for j, entry in row.items():
        if j == c:
            continue
        parts = target.get(j, 0), factor, entry
        value = VARIES if VARIES in parts else parts[0] - factor * row[c] * entry
        if value == 0:
            target.pop(j, None)
        else:
            target[j] = value


class Factors:
    """A matrix of a plan, factorised: the entries are numbers or arrays over the positions; whole ones stay as planned.

    `shape` is the shape of the positions.
    """

    def __init__(self, plan, rows, shape):
        self.plan, self.shape = plan, shape
        rows = [dict(row) for row in rows]
        self.uppers, self.lowers = [], []
        for r, c, sign, below in plan.pivots:
            upper = {j: x for j, x in rows[r].items() if j != c and not is_zero(x)}
            lower = {n: _times(sign, rows[n].pop(c, 0)) for n in below}
            for n, factor in lower.items():
                for j, entry in upper.items():
                    rows[n][j] = less(rows[n].get(j, 0), factor, entry)
            self.uppers.append(upper)
            self.lowers.append({n: x for n, x in lower.items() if not is_zero(x)})
        self.core = [[rows[r].get(c, 0) for c in plan.columns] for r in plan.rows]

    @cached_property
    def inverse(self):
        """The inverse of the core as a list of rows (the pseudo-inverse where equations are redundant)."""
        size = len(self.plan.rows), len(self.plan.columns)
        if size == (1, 1):
            with np.errstate(divide="ignore"):
                return [[1.0 / np.asarray(self.core[0][0])]]
        if size == (2, 2):
            (a, b), (c, d) = self.core
            with np.errstate(divide="ignore", invalid="ignore"):
                w = 1.0 / np.asarray(self.determinant)
                return [[_times(w, d), _times(-w, b)], [_times(-w, c), _times(w, a)]]
        return _inverse_of(self.core, self.shape)

    @cached_property
    def determinant(self):
        """The determinant of a core of one or two equations."""
        if len(self.core) == 1:
            return self.core[0][0]
        (a, b), (c, d) = self.core
        return less(_times(a, d), b, c)

    def solve(self, right) -> list:
        """The unknowns, for right-hand sides given row by row (numbers, or arrays with the positions last)."""
        right = list(right)
        for (r, *_), lower in zip(self.plan.pivots, self.lowers, strict=True):
            if not is_zero(right[r]):
                for n, factor in lower.items():
                    right[n] = less(right[n], factor, right[r])
        found = [0] * (len(self.plan.pivots) + len(self.plan.columns))
        core = [right[r] for r in self.plan.rows]
        for c, row in zip(self.plan.columns, self.inverse, strict=True):
            found[c] = _sum_of(row, core)
        for (r, c, sign, _), upper in zip(self.plan.pivots[::-1], self.uppers[::-1], strict=True):
            value = right[r]
            for j, entry in upper.items():
                value = less(value, entry, found[j])
            found[c] = _times(sign, value)
        return found

    def solve_transposed(self, right) -> list:
        """The unknowns of the transposed matrix (one for each row), for right-hand sides given column by column."""
        right, found = list(right), [0] * (len(self.plan.pivots) + len(self.plan.rows))
        for (r, c, sign, _), upper in zip(self.plan.pivots, self.uppers, strict=True):
            found[r] = _times(sign, right[c])
            for j, entry in upper.items():
                right[j] = less(right[j], entry, found[r])
        core = [right[c] for c in self.plan.columns]
        for n, r in enumerate(self.plan.rows):
            found[r] = _sum_of([row[n] for row in self.inverse], core)
        for (r, *_), lower in zip(self.plan.pivots[::-1], self.lowers[::-1], strict=True):
            for n, factor in lower.items():
                found[r] = less(found[r], factor, found[n])
        return found


def is_zero(x):
    """Whether an entry is zero by its structure, at every position."""
    return type(x) is int and x == 0


def less(total, factor, value):
    """``total - factor * value``, doing no work for what is zero or one by its structure."""
    product = _times(factor, value)
    if type(product) is int and product == 0:
        return total
    return -product if type(total) is int and total == 0 else total - product


def _times(a, b):
    if type(a) is int:
        return 0 if a == 0 or is_zero(b) else b if a == 1 else a * b
    if type(b) is int:
        return 0 if b == 0 else a if b == 1 else a * b
    return a * b


def _sum_of(row, values):
    total = 0
    for x, value in zip(row, values, strict=True):
        product = _times(x, value)
        if not is_zero(product):
            total = product if is_zero(total) else total + product
    return total


def _inverse_of(core, shape):
    """Each core's inverse or pseudo-inverse, nan where it has none, as rows of arrays over the positions."""
    rows, columns = len(core), len(core[0]) if core else 0
    if not rows or not columns:
        return [[0] * rows for _ in range(columns)]
    dense = np.empty((*shape, rows, columns))
    for i, row in enumerate(core):
        for j, entry in enumerate(row):
            dense[..., i, j] = entry
    found = _inverted(dense)
    return [[found[..., j, i] for i in range(rows)] for j in range(columns)]


def _inverted(dense):
    bad = ~np.isfinite(dense).all(axis=(-2, -1))
    dense = np.where(bad[..., None, None], np.eye(*dense.shape[-2:]), dense)
    if dense.shape[-1] != dense.shape[-2]:
        found = np.linalg.pinv(dense)
    else:
        singular = np.linalg.matrix_rank(dense) < dense.shape[-1]
        found = np.linalg.inv(np.where(singular[..., None, None], np.eye(dense.shape[-1]), dense))
        bad = bad | singular
    return np.where(bad[..., None, None], np.nan, found)
