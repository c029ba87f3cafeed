"""The design search: candidates a second against the same search looped in Python, and against bare numpy.

Every route measures swing and least transmission angle of the same four-bars at the same crank angles.
"""

import cmath
import time

import numpy as np
import pytest

import linkkit as lk
from linkkit.design import Dimensions, Swing, Transmission
from linkkit.design.curves import build
from linkkit.design.search import Problem
from timing import quickest

STEPS, WANTED, LEAST, WEIGHT = 36, 0.8, np.radians(40), 30.0
SPACE = Dimensions(lk.four_bar, ground=0.4, crank=(0.05, 0.15), coupler=(0.2, 0.5), rocker=(0.2, 0.5))
PROBLEM = Problem(SPACE, [Swing("rocker", WANTED, within=1.0)], [Transmission(LEAST)], None, STEPS)
LOOP_FLOOR = 15.0  # times as many candidates as the loop in a second of one core's work
NUMPY_CEILING = 2.2  # times as long as bare numpy needs on one core
SLACK = 0.7  # what a machine that others use at the same time may take away


def candidates(count):
    draw = np.random.default_rng(0)
    return SPACE.low + (SPACE.high - SPACE.low) * draw.random((count, len(SPACE.names)))


def ours(table):
    """The costs by the package, as the search finds them."""
    return PROBLEM.costs(table)


def looped(table):
    """The same, one four-bar and one position after the other, in plain Python."""
    return [loop_cost(0.4, *map(float, row)) for row in table]


def loop_cost(g, r, a, c):
    angles, least, before = [], np.pi, None
    for k in range(STEPS):
        pin = r * cmath.exp(2j * cmath.pi * k / STEPS)
        away = g - pin
        w = 1 / abs(away) ** 2
        x = 0.5 + 0.5 * (a * a - c * c) * w
        square = a * a * w - x * x
        if square < 0:
            return np.inf
        joint = pin + away * complex(x, square**0.5)
        angle = cmath.phase(joint - g)
        before = angle if before is None else angle - 2 * cmath.pi * round((angle - before) / (2 * cmath.pi))
        angles.append(before)
        pressed = abs(cmath.phase((pin - joint) / (g - joint)))
        least = min(least, pressed, cmath.pi - pressed)
    swing = top(angles) + top([-x for x in angles])
    return (swing - WANTED) ** 2 + (WEIGHT * max(LEAST - least, 0.0)) ** 2


def top(values):
    """The greatest value, by the parabola through it and its neighbours."""
    n = max(range(len(values)), key=values.__getitem__)
    if not 0 < n < len(values) - 1:
        return values[n]
    before, here, after = values[n - 1 : n + 2]
    bend = before - 2 * here + after
    return here - 0.125 * (before - after) ** 2 / bend if bend < 0 else here


def bare(table):
    """The same in numpy, written out for this one task, in pieces that fit the cache, on one core."""
    return np.concatenate([bare_piece(*table[n : n + 1024].T[..., None]) for n in range(0, len(table), 1024)])


CRANK = np.exp(1j * PROBLEM.inputs)


def bare_piece(r, a, c):
    with np.errstate(all="ignore"):
        pin = r * CRANK
        away = 0.4 - pin
        w = 1 / (away * away.conj()).real
        x = 0.5 + 0.5 * (a * a - c * c) * w
        arm = pin + away * (x + 1j * np.sqrt(a * a * w - x * x)) - 0.4
        angle = np.angle(arm)
        angle[:, 1:] -= 2 * np.pi * np.cumsum(np.round(np.diff(angle) / (2 * np.pi)), axis=-1)
        pressed = np.abs(np.angle((pin - 0.4 - arm) / -arm))
        least = np.minimum(pressed, np.pi - pressed).min(axis=-1)
        cost = (tops(angle) + tops(-angle) - WANTED) ** 2 + (WEIGHT * np.maximum(LEAST - least, 0)) ** 2
        return np.where(np.isfinite(cost), cost, np.inf)


def tops(values):
    n, rows = values.argmax(axis=-1), np.arange(len(values))
    inner = np.clip(n, 1, STEPS - 2)
    before, here, after = (values[rows, inner + k] for k in (-1, 0, 1))
    bend = before - 2 * here + after
    smooth = here - 0.125 * (before - after) ** 2 / bend
    return np.where((inner == n) & (bend < 0), smooth, values[rows, n])


def pace(route, count, rounds=3):
    """Candidates for each second that processors work on them, all threads together: the best of some rounds."""
    table = candidates(count)
    route(table[: max(count // 10, 1)])
    return count / quickest(lambda: route(table), rounds)


def test_the_routes_agree():
    table = candidates(500)
    assert np.isfinite(ours(table)).sum() > 100
    assert np.allclose(ours(table), looped(table), rtol=1e-9)
    assert np.allclose(ours(table), bare(table), rtol=1e-9)


def test_against_the_loop_in_python(benchmark):
    fast, slow = pace(ours, 200_000), pace(looped, 1500)
    benchmark.extra_info.update(ours=fast, loop=slow, ratio=fast / slow)
    benchmark.pedantic(ours, (candidates(20_000),), rounds=3)
    assert fast / slow >= SLACK * LOOP_FLOOR, (
        f"{fast:.0f} against {slow:.0f} candidates a second: {fast / slow:.0f} times"
    )


def test_against_bare_numpy(benchmark):
    fast, floor = pace(ours, 200_000), pace(bare, 200_000)
    benchmark.extra_info.update(ours=fast, numpy=floor, ratio=floor / fast)
    benchmark.pedantic(bare, (candidates(20_000),), rounds=3)
    assert floor / fast <= NUMPY_CEILING / SLACK, f"{fast:.0f} against {floor:.0f} candidates a second"


@pytest.fixture(scope="module")
def index():
    start = time.perf_counter()
    found = build()
    return found, time.perf_counter() - start


def test_the_index_is_built_within_two_minutes(index):
    found, seconds = index
    assert len(found) >= 200_000
    assert seconds < 120 / SLACK


def test_the_index_is_searched_within_fifty_milliseconds(index, benchmark):
    found, _ = index
    sketch = np.array([0, 0.1 + 0.02j, 0.2, 0.18 + 0.06j, 0.1 + 0.09j, 0.02 + 0.06j])
    found.nearest(sketch)  # the tree is built
    benchmark.pedantic(found.nearest, (sketch,), rounds=20)
    assert benchmark.stats.stats.median < 0.050 / SLACK
