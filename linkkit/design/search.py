"""A wide search on the closed forms, then least squares on the best, then a check of each by moving it.

Method: random sampling of the whole space in large families (`linkkit.survey`), then the trust-region least squares of
scipy (M. A. Branch, T. F. Coleman, Y. Li, SIAM J. Sci. Comput. 21 (1999) 1-23) from the best of them that differ.
"""

from __future__ import annotations

import numpy as np

from ..errors import LinkageError
from ..family import survey
from ..motion import move
from .checking import judge
from .result import Designs, Watch, ranked
from .space import Sketch

IN_HAND = 32_000  # positions on a core: aims need many arrays, which together fit its cache
FEW = 4  # inputs at which a candidate must assemble before it is measured; for a four-bar these hold both extremes
CHUNK = 16_384  # candidates between two reports
WEIGHTS = (30.0, 1e3, 1e5)  # of an exceeded limit against a missed aim, in the rounds of refinement
APART = 0.08  # of the ranges: nearer than this, two candidates count as one
FINER = 240  # positions at which a candidate is refined
SAME = 1e-3  # of the ranges: nearer than this, two designs are one
STEP = 1e-6  # of the ranges, for differences


class Problem:
    """Aims and limits as numbers over a space of candidates."""

    def __init__(self, space, aims, limits, over, steps):
        if not aims:
            raise LinkageError("say what is wanted: at least one aim")
        self.space, self.aims, self.limits, self.over = space, tuple(aims), tuple(limits), over
        span = turn_or_span(space) if over is None else over
        self.inputs = np.arange(steps) * (2 * np.pi / steps) if span is None else np.linspace(*span, steps)

    def finer(self):
        """The same at more positions, for the refinement."""
        return Problem(self.space, self.aims, self.limits, self.over, max(FINER, len(self.inputs)))

    def residuals(self, motion, weight):
        """All misses and excesses of a motion: shape (members, residuals), nan where a member does not assemble."""
        rows = len(self.aims)
        parts = []
        for aim in self.aims:
            miss = np.asarray(aim.miss(motion)) / aim.within
            parts.append(miss / np.sqrt(rows * miss.shape[-1]))
        parts += [weight * np.asarray(limit.excess(motion))[..., None] for limit in self.limits]
        members = motion.shape[:-1]
        return np.concatenate([np.broadcast_to(p, (*members, p.shape[-1])) for p in parts], axis=-1)

    def cost(self, motion):
        """The sum of squares for each member; inf where it does not assemble at every input."""
        with np.errstate(all="ignore"):
            total = (self.residuals(motion, WEIGHTS[0]) ** 2).sum(axis=-1)
            return np.where(motion.ok.all(axis=-1) & np.isfinite(total), total, np.inf)

    def costs(self, table):
        """The cost of each row of a table: those that do not assemble at a few inputs are not looked at any further."""
        few = self.inputs[:: max(1, len(self.inputs) // FEW)]
        build, costs = self.space.build, np.full(len(table), np.inf)
        alive = survey(build, self.space.columns(table), few, lambda motion: motion.ok.all(axis=-1))
        if alive.any():
            some = self.space.columns(table[alive])
            costs[alive] = survey(build, some, self.inputs, self.cost, positions=IN_HAND)
        return costs

    def at(self, table, weight):
        """The residuals of a few candidates, shape (n, names)."""
        family = self.space.build(**{k: np.asarray(x)[..., None] for k, x in self.space.columns(table).items()})
        with np.errstate(all="ignore"):
            return self.residuals(move(family, self.inputs), weight)


def turn_or_span(space):
    """The span of the input that drives, as the linkage gives it; None for a whole turn."""
    drive = space.example.inputs[0]
    if drive.kind == "distance" and drive.span is None:
        raise LinkageError(
            f"input {drive.name} is a distance without a span: say over which range, as over=(start, end)"
        )
    return drive.span


def search(space, aims, *, limits=(), over=None, steps=72, tries=100_000, keep=5, seed=0, progress=None, stop=None):
    """Look through very many candidates of a space, refine the best, and check them.

    Parameters
    ----------
    space : Dimensions or Sketch
        What may be chosen.
    aims, limits : sequence
        Plain values such as ``Level("tray")`` and ``Transmission(np.radians(40))``.
    over : (float, float), optional
        The range of the input, radians or metres; one whole turn if not given. Every candidate must assemble in all of it.
    steps : int
        Positions at which a candidate is measured; the designs returned are checked on a finer grid.
    tries, keep, seed : int
        How many candidates are drawn, how many designs are returned, and the seed: the same seed gives the same answer.
    progress : callable, optional
        Called now and then with a `Progress`.
    stop : callable, optional
        Asked now and then; if it returns true, the search ends with the best so far. So does Ctrl-C.

    Returns
    -------
    Designs
        Best first: those without defects before others, then by error.

    Raises
    ------
    LinkageError
        If no candidate assembles over the range.

    Examples
    --------
    >>> import linkkit as lk
    >>> from linkkit.design import Dimensions, Swing
    >>> bars = Dimensions(lk.four_bar, ground=0.4, crank=(0.05, 0.15), coupler=0.35, rocker=0.25)
    >>> round(search(bars, [Swing("rocker", 0.83)], tries=200).best.values["crank"], 3)
    0.1
    """
    problem, watch = Problem(space, aims, limits, over, steps), Watch(progress, stop)
    tried, table = _wide(problem, watch, int(tries), seed, 8 * keep)
    if not len(table):
        raise LinkageError(f"none of {tried} candidates assembles over the whole range of the input: widen the ranges")
    return _finished(problem.finer(), watch, _apart(problem, table, 2 * keep), keep, tried, seed)


def improve(linkage, space, aims, *, limits=(), over=None, steps=72, progress=None, stop=None) -> Designs:
    """Least squares from a linkage as it is sketched, without a wide search.

    Parameters
    ----------
    linkage : Linkage
    space : Sketch or dict
        A `Sketch` of the linkage, or what such a one is made from.
    aims, limits, over, steps, progress, stop
        As for `search`.

    Examples
    --------
    >>> import linkkit as lk, numpy as np
    >>> from linkkit.design import Level
    >>> hoist = lk.machine("crate-hoist")
    >>> bool(improve(hoist, {"D": 0.05}, [Level("tray")]).best.misses["level tray"] < np.radians(0.38))
    True
    """
    space = space if isinstance(space, Sketch) else Sketch(linkage, space)
    problem, watch = Problem(space, aims, limits, over, steps), Watch(progress, stop)
    return _finished(problem.finer(), watch, [space.here], 1, 1, None)


def _wide(problem, watch, tries, seed, most):
    """The best candidates of all that were drawn, best first, and how many were drawn."""
    space, draw = problem.space, np.random.default_rng(seed)
    table, costs, done = np.zeros((0, len(space.names))), np.zeros(0), 0
    with watch:
        while done < tries and not watch.stopped:
            some = space.low + (space.high - space.low) * draw.random((min(CHUNK, tries - done), len(space.names)))
            some = some if done else np.concatenate([space.first, some])[: len(some)]
            cost = problem.costs(some)
            done += len(some)
            table, costs = np.concatenate([table, some]), np.concatenate([costs, cost])
            first = np.argsort(costs, kind="stable")[:most]
            table, costs = table[first], costs[first]
            watch.told(done, tries, np.sqrt(costs[0]), "looking")
    return done, table[np.isfinite(costs)]


def _apart(problem, table, most):
    """The first candidates of a table that differ from one another."""
    size, chosen = problem.space.high - problem.space.low, []
    for row in table:
        if all(np.abs((row - other) / size).max() > APART for other in chosen):
            chosen.append(row)
    return chosen[:most]


def _finished(problem, watch, starts, keep, tried, seed):
    """The starts refined, checked and ranked."""
    designs = []
    for n, start in enumerate(starts):
        row = start
        with watch:
            if not watch.stopped:
                row = refined(problem, start)
        design = _checked(problem, row)
        designs.append(design if np.isfinite(design.error) else _checked(problem, start))
        watch.told(n + 1, len(starts), min(d.error for d in designs), "refining")
    return ranked(_once(problem.space, designs), keep=keep, tried=tried, stopped=watch.stopped, seed=seed)


def _once(space, designs):
    """The designs in order, each that several starts came to once."""
    kept, rows = [], []
    for design in sorted(designs, key=lambda d: d.rank):
        row = np.array([design.values[name] for name in space.names]) / (space.high - space.low)
        if all(np.abs(row - other).max() > SAME for other in rows):
            kept.append(design)
            rows.append(row)
    return kept


def _checked(problem, row):
    space = problem.space
    values = {name: float(x) for name, x in space.columns(row).items()}
    return judge(space.linkage(row), problem.aims, limits=problem.limits, over=problem.over, values=values)


def refined(problem, start):
    """The least squares from a start, in rounds in which limits weigh more and more."""
    from scipy.optimize import least_squares

    space = problem.space
    size, row = space.high - space.low, np.clip((start - space.low) / (space.high - space.low), 1e-9, 1 - 1e-9)
    for weight in WEIGHTS if problem.limits else WEIGHTS[:1]:
        value = lambda x, w=weight: problem.at((space.low + size * x)[None], w)[0]  # noqa: E731
        slope = lambda x, w=weight: _slopes(problem, x, w)  # noqa: E731
        if not np.isfinite(value(row)).all():
            return start
        row = least_squares(value, row, jac=slope, bounds=(0.0, 1.0), max_nfev=60).x
    return space.low + size * row


def _slopes(problem, x, weight):
    """The Jacobian by differences, all of its columns from one family."""
    space, n = problem.space, len(x)
    inward = np.where(x > 0.5, -STEP, STEP)
    beside = np.vstack([x, x + np.diag(inward)])
    found = problem.at(space.low + (space.high - space.low) * beside, weight)
    return np.nan_to_num((found[1 : n + 1] - found[0]) / inward[:, None], posinf=0, neginf=0).T


__all__ = ["Designs", "improve", "search"]
