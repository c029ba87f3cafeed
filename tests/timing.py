"""What the timings share: how long a thing takes, and what a shared machine may take away from a promise."""

import time

SLACK = 0.8  # what a machine that others use at the same time may take away


def quickest(function, times):
    """The least processor seconds of several runs: what it takes when nothing else disturbs it."""
    found = []
    for _ in range(times):
        start = time.process_time()
        function()
        found.append(time.process_time() - start)
    return min(found)
