"""How long the outside waits for a script's process: by the processor's time, and by the clock for what sleeps.

A busy machine, even one that another script keeps busy, then costs nobody a mark.
"""

from __future__ import annotations

import time

from .cage import ASLEEP

GRACE = 1.5  # seconds that a cell has to obey the alarm before its process is killed


class Patience:
    """The time that a process has used, since it began and since it last said something."""

    def __init__(self, process: int, limits):
        self.clock = ~process << 3 | 2  # the number of another process's clock (kernel: CPUCLOCK_SCHED)
        self.limits = limits
        self.begun = self.heard = self._used(), time.monotonic()

    def _used(self) -> float:
        """The processor's time of the process, all its threads together; nothing once it has ended."""
        try:
            return time.clock_gettime(self.clock)
        except OSError:
            return 0.0

    def start_again(self) -> None:
        """It has said something."""
        self.heard = self._used(), time.monotonic()

    def gone(self) -> str:
        """What time is used up, "" if none is."""
        now = self._used(), time.monotonic()
        for since, seconds, what in (
            (self.begun, self.limits.total_seconds, "total time"),
            (self.heard, self.limits.cell_seconds + GRACE, "cell time"),
        ):
            if now[0] - since[0] >= seconds or now[1] - since[1] >= ASLEEP * seconds:
                return what
        return ""
