"""IPython without a kernel: cells run one after the other, what they print is kept up to a limit, errors are words."""

from __future__ import annotations

import io
import signal
import sys

from IPython.core.displayhook import DisplayHook
from IPython.core.displaypub import DisplayPublisher
from IPython.core.interactiveshell import InteractiveShell

from .cage import ASLEEP

KEPT = 10_000  # characters of one cell's printing
LONGEST_ERROR = 300


class CellTimeout(BaseException):
    """A cell took longer than it may; no `except Exception` of the student's catches it."""


class Capped(io.TextIOBase):
    """A text stream that keeps the beginning."""

    def __init__(self):
        self.kept, self.room = [], KEPT

    def writable(self):
        """Yes."""
        return True

    def write(self, text):
        """Keep what there is room for."""
        text = str(text)
        if self.room > 0:
            self.kept.append(text[: self.room])
            self.room -= len(text)
        return len(text)

    def text(self) -> str:
        """What was kept."""
        return "".join(self.kept)


class Spoken(DisplayHook):
    """The result of a cell, as its text only: nothing is drawn while marking."""

    def __call__(self, result=None):
        if result is not None and not self.quiet():
            self.shell.user_ns["_"] = result
            sys.stdout.write(f"{result!r}\n"[:KEPT])


class Unseen(DisplayPublisher):
    """`display` keeps the text only."""

    def publish(self, data, metadata=None, **more):
        """Keep the text, if there is one."""
        sys.stdout.write(str(data.get("text/plain", "")) + "\n")


class Shell(InteractiveShell):
    """An IPython shell that draws no figure and formats no traceback."""

    displayhook_class = Spoken
    display_pub_class = Unseen

    def enable_gui(self, gui=None):
        """There is none."""

    def enable_matplotlib(self, gui=None):
        """Figures stay undrawn."""
        return "agg", "agg"

    def showtraceback(self, *args, **more):
        """The error is in the result."""

    def showsyntaxerror(self, *args, **more):
        """The error is in the result."""

    def showindentationerror(self):
        """The error is in the result."""


def make_shell() -> Shell:
    """The shell that every child inherits."""
    from traitlets.config import Config

    config = Config()
    config.HistoryManager.enabled = False
    config.InteractiveShell.colors = "nocolor"
    config.InteractiveShell.xmode = "Minimal"
    made = Shell.instance(config=config)
    made.display_formatter.active_types = ["text/plain"]  # no figure and no drawing is rendered for `display`
    return made


def run_cell(shell: Shell, source: str, seconds: float) -> tuple[str, str]:
    """Run one cell: (what it printed, the error it stopped with or nothing)."""
    out = sys.stdout = sys.stderr = Capped()
    with Alarm(seconds):
        try:
            result = shell.run_cell(source, store_history=False)
            error = result.error_before_exec or result.error_in_exec
        except BaseException as caught:
            error = caught
    sys.stdout = sys.stderr = Capped()
    return out.text(), "" if error is None else in_words(error, seconds)


def in_words(error, seconds: float) -> str:
    """What a cell stopped with."""
    if isinstance(error, CellTimeout):
        return f"It ran for more than {seconds:g} seconds and was stopped."
    try:
        return f"{type(error).__name__}: {error}"[:LONGEST_ERROR]
    except BaseException:  # a class of the student's whose text can't be made
        return str(type(error).__name__)[:LONGEST_ERROR]


class Alarm:
    """Interrupt what takes longer, and again each second, for code that catches the first.

    It counts the processor's time, so that a busy machine costs nobody a mark; the clock rings later, for what sleeps.
    """

    def __init__(self, seconds: float):
        self.seconds = seconds

    def __enter__(self):
        for number, timer, seconds in self._timers():
            signal.signal(number, self._ring)
            signal.setitimer(timer, seconds, 1.0)

    def __exit__(self, *error):
        for _, timer, _ in self._timers():
            signal.setitimer(timer, 0)

    def _timers(self):
        return (
            (signal.SIGPROF, signal.ITIMER_PROF, self.seconds),
            (signal.SIGALRM, signal.ITIMER_REAL, ASLEEP * self.seconds),
        )

    @staticmethod
    def _ring(number, frame):
        raise CellTimeout
