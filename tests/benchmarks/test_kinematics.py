"""How fast linkages move, as ratios of two timings taken side by side in one run; run with `pytest -m speed`."""

import os
import resource
import subprocess
import sys
import time

import numpy as np
import pytest
from scipy.optimize import fsolve

import linkkit as lk
from timing import SLACK

# The promises, for a quiet machine: times of a general solver, of numpy's floor, of one chain, positions a second, of numpy.
CYCLE_FLOOR, LONG_CEILING, CHAINS_CEILING, PACE_FLOOR, IMPORT_CEILING = 300, 2.5, 4.0, 20e6, 1.3

GROUND, CRANK, COUPLER, ROCKER = 0.4, 0.1, 0.35, 0.25
CYCLE = np.arange(360) * (2 * np.pi / 360)


def least_ratio(slow, fast, rounds=7, repeats=(1, 1), clock=time.process_time):
    """The least time of `slow` over the least of `fast`, the two in turn, so that a drift of the machine meets both."""
    times = ([], [])
    for _ in range(rounds):
        for work, repeat, kept in zip((slow, fast), repeats, times, strict=True):
            start = clock()
            for _ in range(repeat):
                work()
            kept.append((clock() - start) / repeat)
    return min(times[0]) / min(times[1])


def joints(linkage, angles):
    """Move, and read where the joints are: what anybody would at least want."""
    motion = lk.move(linkage, angles)
    return [motion.point(name) for name in linkage.points]


def by_fsolve():
    """The same cycle, one position after another, each from the last, by a general solver on the loop equations.

    Written as one writes it, with numpy's functions; those of `math` take half the time for single numbers.
    """
    guess = np.array([0.5, 1.8])
    for t in CYCLE:

        def gap(x, t=t):
            return [
                CRANK * np.cos(t) + COUPLER * np.cos(x[0]) - GROUND - ROCKER * np.cos(x[1]),
                CRANK * np.sin(t) + COUPLER * np.sin(x[0]) - ROCKER * np.sin(x[1]),
            ]

        guess = fsolve(gap, guess)
    return guess


def test_the_general_solver_ends_at_the_same_place():
    """Else the ratio would mean nothing."""
    coupler, rocker = by_fsolve()
    motion = lk.move(lk.four_bar(GROUND, CRANK, COUPLER, ROCKER), CYCLE[-1])
    assert np.exp(1j * motion.angle("coupler")) == pytest.approx(np.exp(1j * coupler), abs=1e-7)
    assert np.exp(1j * motion.angle("rocker")) == pytest.approx(np.exp(1j * rocker), abs=1e-7)


def test_a_cycle_against_a_general_solver(benchmark):
    bar = lk.four_bar(GROUND, CRANK, COUPLER, ROCKER)
    cycle = lambda: lk.move(bar).point("B")  # noqa: E731
    benchmark(cycle)
    assert least_ratio(by_fsolve, cycle, repeats=(1, 100)) >= SLACK * CYCLE_FLOOR


def test_a_long_cycle_against_the_floor_of_numpy(benchmark):
    bar, angles = lk.four_bar(GROUND, CRANK, COUPLER, ROCKER), np.linspace(0, 2 * np.pi, 36_000)
    benchmark(joints, bar, angles)
    ratio = least_ratio(
        lambda: lk.move(bar, angles).point("B"),
        lambda: np.sin(angles) + np.cos(angles) + np.sqrt(angles),
        rounds=15,
        repeats=(10, 10),
    )
    assert ratio <= LONG_CEILING / SLACK


def test_three_chains_against_one(benchmark):
    bar, hoist = lk.four_bar(GROUND, CRANK, COUPLER, ROCKER), lk.machine("crate-hoist")
    benchmark(joints, hoist, CYCLE)
    assert (
        least_ratio(lambda: joints(hoist, CYCLE), lambda: joints(bar, CYCLE), repeats=(100, 100), rounds=9)
        <= CHAINS_CEILING / SLACK
    )


@pytest.mark.skipif((os.cpu_count() or 1) < 2, reason="the promise is for two cores")
def test_a_million_candidates_in_flat_memory(benchmark):
    rng, count = np.random.default_rng(1), 1_000_000
    ranges = {"ground": (0.3, 0.5), "crank": (0.05, 0.15), "coupler": (0.3, 0.5), "rocker": (0.2, 0.4)}
    lengths = {name: rng.uniform(*span, count) for name, span in ranges.items()}
    angles = np.arange(64) * (2 * np.pi / 64)

    def survey(members):
        few = {name: x[:members] for name, x in lengths.items()}
        return lk.survey(lk.four_bar, few, angles, lambda motion: motion.point("B")[:, 17], cores=2)

    survey(50_000)
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    start = time.perf_counter()
    found = benchmark.pedantic(survey, (count,), rounds=2, iterations=1)
    pace = 2 * count * len(angles) / (time.perf_counter() - start)
    grown = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before
    assert found.shape == (count,)
    assert grown < 150_000, "KiB: 64 million positions would take a thousand times the cache"
    assert pace >= SLACK * PACE_FLOOR, f"{pace / 1e6:.1f} million chain positions a second"


def seconds_of(statement):
    code = f"import time; t = time.perf_counter(); {statement}; print(time.perf_counter() - t)"
    env = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
    return float(
        subprocess.run([sys.executable, "-c", code], env=env, capture_output=True, text=True, check=True).stdout
    )


def test_import_against_numpy():
    for _ in range(2):  # compiled files are written
        seconds_of("import linkkit")
    times = [(seconds_of("import linkkit"), seconds_of("import numpy")) for _ in range(15)]
    ours, theirs = (min(column) for column in zip(*times, strict=True))
    assert ours / theirs <= IMPORT_CEILING / SLACK
