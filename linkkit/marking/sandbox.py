"""The sandbox: bubblewrap around a warm process that runs each script in a caged child of its own.

The system is read-only, there is no network, the processes and folders of this machine are out of sight, and of linkkit
only what a script may use is there: no questions, no answers, no key, no gradebook. `box/cage.py` has the walls
around each single script.
"""

from __future__ import annotations

import os
import secrets
import shutil
import subprocess
import sys
import time
from dataclasses import asdict, dataclass, field
from pathlib import Path

from .box import frames
from .box.cage import ASLEEP, Limits

PACKAGE = Path(__file__).resolve().parents[1]
READERS = ("answers.py", "tolerance.py", "units.py", "givens.py", "own_code.py")  # of coursework: what reads an answer
HIDDEN = ("coursework", "marking", "solutions", "report", "cli.py", "__pycache__")
START, SLACK = 60.0, 15.0  # seconds: for loading everything; for killing what runs too long
NO_SANDBOX = (
    "{why} Scripts of students are only run in a sandbox, which needs Linux with bubblewrap (`sudo apt-get install "
    "bubblewrap`). Use docs/Containerfile where that can't be had, or mark with --not-for-credit."
)


class NoSandbox(RuntimeError):
    """There is no sandbox on this machine."""


@dataclass(frozen=True)
class Ran:
    """What came out of the sandbox for one script: messages, and why they ended early ("" if they did not)."""

    sent: tuple[dict, ...] = field(default=())
    why: str = ""
    ended: int | None = None


def sandbox_command() -> str:
    """The path of bubblewrap.

    Raises
    ------
    NoSandbox
        Where it can't be used.
    """
    if not sys.platform.startswith("linux"):
        raise NoSandbox(NO_SANDBOX.format(why="This is not Linux."))
    found = shutil.which("bwrap")
    if not found:
        raise NoSandbox(NO_SANDBOX.format(why="bubblewrap is not installed."))
    return found


def walls(bwrap: str, *, own_code: bool) -> list[str]:
    """bubblewrap's command line."""
    words = [bwrap, "--unshare-all", "--unshare-user", "--uid", "1000", "--gid", "1000", "--hostname", "marking"]
    words += ["--die-with-parent", "--new-session", "--cap-drop", "ALL", "--clearenv"]
    for name, value in _environment().items():
        words += ["--setenv", name, value]
    words += ["--ro-bind", "/usr", "/usr", "--proc", "/proc", "--dev", "/dev", "--tmpfs", "/scratch"]
    for place in _pythons():
        words += ["--ro-bind", place, place]
    for place in ("/bin", "/lib", "/lib64", "/sbin"):
        words += ["--symlink", f"usr{place}", place] if os.path.islink(place) else []
    for place in ("/etc/ld.so.cache", "/etc/fonts", "/etc/localtime"):
        words += ["--ro-bind-try", place, place]
    words += _linkkit(own_code) + _fonts()
    return [*words, "--remount-ro", "/fonts", "--remount-ro", "/dev", "--remount-ro", "/", "--chdir", "/scratch"]


def _environment() -> dict[str, str]:
    """The whole environment inside: one thread, nothing random, nothing of ours."""
    one = dict.fromkeys(("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS"), "1")
    return {
        **one,
        "PATH": "/usr/bin:/bin",
        "HOME": "/scratch",
        "TMPDIR": "/scratch",
        "IPYTHONDIR": "/scratch/ipython",
        "LANG": "C.UTF-8",
        "MPLBACKEND": "Agg",
        "MPLCONFIGDIR": "/fonts",
        "PYTHONDONTWRITEBYTECODE": "1",
        "PYTHONHASHSEED": "0",
        "PYTHONNOUSERSITE": "1",
    }


def _pythons() -> list[str]:
    """The folders of this Python and of its environment, unless they are part of the system."""
    places = dict.fromkeys(os.path.realpath(p) for p in (sys.base_prefix, sys.prefix))
    return [place for place in places if not place.startswith("/usr/") and place != "/usr"]


def _linkkit(own_code: bool) -> list[str]:
    """linkkit without its questions, or nothing of it but what reads an answer."""
    words = ["--tmpfs", str(PACKAGE)]
    shown = [] if own_code else [p for p in sorted(PACKAGE.iterdir()) if p.name not in HIDDEN]
    shown += [PACKAGE / "coursework" / name for name in READERS]
    shown += [PACKAGE / "marking" / "__init__.py", PACKAGE / "marking" / "box"]
    for place in shown:
        words += ["--ro-bind-try", str(place), str(place)]
    return [*words, "--remount-ro", str(PACKAGE)]


def _fonts() -> list[str]:
    """matplotlib's list of fonts, so that it need not be made again at each start."""
    import matplotlib

    return ["--tmpfs", "/fonts", *(w for p in Path(matplotlib.get_cachedir()).glob("fontlist*.json")
            for w in ("--ro-bind", str(p), f"/fonts/{p.name}"))]  # fmt: skip


class Box:
    """One sandbox with a warm process in it, which runs one script after the other.

    Use it as a context manager: everything inside is killed at its end.
    """

    def __init__(self, *, own_code: bool = False, credit: bool = True):
        self.own_code, self.credit = own_code, credit
        self._run: subprocess.Popen | None = None

    def __enter__(self) -> Box:
        return self

    def __exit__(self, *error) -> None:
        self.close()

    def close(self) -> None:
        """Kill whatever runs."""
        if self._run:
            self._run.kill()
            for pipe in (self._run.stdin, self._run.stdout, self._run.stderr):
                pipe.close()
            self._run.wait()
            self._run = None

    def start(self) -> None:
        """Start the warm process, unless it is there already.

        Raises
        ------
        NoSandbox
            If it does not come up.
        """
        if self._run:
            return
        command = walls(sandbox_command(), own_code=self.own_code) if self.credit else []
        command += [sys.executable, "-m", "linkkit.marking.box.warm", *["--own-code"] * self.own_code]
        command += [] if self.credit else ["--no-cage"]
        self._run = subprocess.Popen(
            command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE, bufsize=0, cwd="/"
        )
        ready = self._reply(START)
        if not ready or not ready.get("ready"):
            said = self._run.stderr.read(2000).decode(errors="replace").strip()
            self.close()
            raise NoSandbox(NO_SANDBOX.format(why=f"The sandbox did not start: {said or 'it said nothing'}."))

    def run(self, request: dict, limits: Limits) -> Ran:
        """Run one script; whatever happens inside, this returns."""
        self.start()
        number = secrets.token_hex(8)
        try:
            frames.send(self._run.stdin.fileno(), {**request, "number": number, "limits": asdict(limits)})
            reply = self._reply(ASLEEP * limits.total_seconds + SLACK)
        except OSError as error:
            reply = None if isinstance(error, BrokenPipeError) else {"why": str(error)}
        if not reply or reply.get("number") != number:
            self.close()
            return Ran(why="no cage: the sandbox came to an end")
        return Ran(tuple(m for m in reply["sent"] if isinstance(m, dict)), reply["why"], reply["ended"])

    def _reply(self, seconds: float):
        try:
            return frames.receive(self._run.stdout.fileno(), deadline=time.monotonic() + seconds)
        except frames.BrokenFrame:
            return None


def check_sandbox() -> None:
    """Try the sandbox once.

    Raises
    ------
    NoSandbox
        With what is missing and what to do.
    """
    command = [*walls(sandbox_command(), own_code=False), "/usr/bin/env", "true"]
    done = subprocess.run(command, capture_output=True, text=True, timeout=30, check=False)
    if done.returncode:
        raise NoSandbox(NO_SANDBOX.format(why=f"bubblewrap is not allowed to work here ({done.stderr.strip()[:300]})."))
