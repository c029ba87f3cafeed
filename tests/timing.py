"""What the timings share: how long a thing takes, and what a shared machine may take away from a promise."""

import json
import time

import numpy as np

SLACK = 0.8  # what a machine that others use at the same time may take away
YARD = 3.5e-3  # seconds that `yard` takes on the quiet machine of docs/speed.md


def quickest(function, times):
    """The least processor seconds of several runs: what it takes when nothing else disturbs it."""
    found = []
    for _ in range(times):
        start = time.process_time()
        function()
        found.append(time.process_time() - start)
    return min(found)


def yard():
    """A fixed piece of work of the kind that makes a page: many small arrays, many short texts."""
    row = np.linspace(0.0, 1.0, 24)
    for k in range(500):
        np.interp(row, row, np.cos(row + k)).sum()
    for k in range(60):
        json.loads(json.dumps([{"name": f"{k} of {n}", "value": n / 7} for n in range(20)]))


def slowness(rounds=20):
    """How many times slower this machine is just now than the quiet one: a promise in seconds becomes a ratio by it."""
    return quickest(yard, rounds) / YARD
