"""Put off what may wait: while a slider is dragged the picture follows at once, slower work after the last step."""

from __future__ import annotations

import asyncio

PAUSE = 0.12  # seconds without another call


class Later:
    """Runs the last of several calls after a short pause; at once where no event loop is running (in a script)."""

    def __init__(self):
        self._waiting = None

    def call(self, work):
        """Do `work` soon, unless another call comes first."""
        try:
            loop = asyncio.get_running_loop()
        except RuntimeError:
            work()
            return
        if self._waiting is not None:
            self._waiting.cancel()
        self._waiting = loop.call_later(PAUSE, work)
