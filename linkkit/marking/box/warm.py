"""The warm process of the sandbox: everything loaded once, then one child for each script that is sent in.

Started as ``python -m linkkit.marking.box.warm`` by `sandbox.Box`; it speaks on standard input and output.
"""

from __future__ import annotations

import contextlib
import gc
import os
import select
import signal
import sys
import time
from dataclasses import asdict

from . import cage, frames, pages, stand_in
from .patience import GRACE, Patience

LOOK = 0.1  # seconds after which the clocks are looked at again
LEFT_OUT = ("algebra", "coursework", "design", "draw", "workbook")  # of linkkit: no answer is worked out by them
# what linkkit loads when it is first used, and scipy below it: 14 ms of each child's time, if each had to do it
WARM_UP = """
import linkkit as lk
_ = [getattr(lk, name) for name in lk.__all__ if name not in {left_out}]
bars = lk.four_bar(0.3, 0.1, 0.25, 0.2)
_ = lk.facts(bars), lk.motion_kinds(bars), lk.machine("brine-lift")
_ = lk.forces(lk.move(bars, steps=4, speed=1.0), masses={{"rocker": 1.0}}).input_torque
"""


def preload(own_code: bool = False):
    """Load what scripts use, so that no child has to; the shell."""
    import matplotlib.figure
    import matplotlib.pyplot  # noqa: F401
    import numpy.linalg  # noqa: F401
    import scipy.optimize  # noqa: F401
    import sympy

    from linkkit.coursework import answers, givens  # noqa: F401

    from . import script, shell

    made = shell.make_shell()
    result = made.run_cell("1 + 1" if own_code else WARM_UP.format(left_out=LEFT_OUT), store_history=False)
    result.raise_error()
    made.user_ns.clear()
    made.init_user_ns()
    sympy.diff(sympy.Symbol("x") ** 2)
    return made, script.run


def main(own_code: bool, caged: bool) -> None:
    """Answer requests until the other end closes."""
    requests, replies = os.dup(0), os.dup(1)
    nowhere = os.open("/dev/null", os.O_RDWR)
    os.dup2(nowhere, 0)
    os.dup2(2, 1)
    stand_in.furnish(own_code)
    shell, run = preload(own_code)
    walls = cage.Walls() if caged else cage.NoWalls()
    gc.collect()
    gc.freeze()
    if caged:
        pages.use_large_pages()
    for standard in (1, 2):
        os.dup2(nowhere, standard)
    frames.send(replies, {"ready": True, "limits": asdict(cage.Limits())})
    while (request := frames.receive(requests, largest=frames.LARGEST_REQUEST)) is not None:
        # the number is only given back with the reply: nothing that a child sends can pass for another script's
        number = request.pop("number")
        frames.send(replies, {"number": number, **one_script(request, lambda r, fd: run(r, shell, fd), walls)})


def one_script(request: dict, run, walls) -> dict:
    """Run one script in a child of its own; what came back and how it ended."""
    limits = cage.Limits(**request.pop("limits"))
    request["cell_seconds"] = limits.cell_seconds
    told, telling = os.pipe()  # by the go-between only: the script has no hold of this one
    inward, outward = os.pipe()
    between = os.fork()
    if not between:
        _go_between(lambda: _in_the_cage(request, run, walls, limits, outward), walls, limits, outward, telling)
    os.close(outward)
    os.close(telling)
    try:
        return _followed(told, inward, limits)
    finally:
        os.close(inward)
        os.close(told)
        os.waitpid(between, 0)


def _go_between(inside, walls, limits, outward: int, telling: int) -> None:
    """Move apart, fork the process that runs the script, and tell how that one ended. Never returns."""
    try:
        _close_all_but(outward, telling)
        walls.move_apart(limits)
        child = os.fork()
        if not child:
            os.close(telling)
            inside()
        os.close(outward)
        frames.send(telling, {"child": child})
        frames.send(telling, {"ended": os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])})
    except BaseException as error:
        frames.send(telling, {"no cage": f"{type(error).__name__}: {error}"})
    finally:
        os._exit(0)


def _in_the_cage(request, run, walls, limits, outward: int) -> None:
    """Lock the cage and run the script. Never returns."""
    try:
        os.setsid()  # signals to its own group reach nobody else, and all its threads together get one share of the processors
        walls.lock(limits)
    except BaseException as error:
        frames.send(outward, {"no cage": f"{type(error).__name__}: {error}"})
        os._exit(97)
    try:
        run(request, outward)
        os._exit(0)
    finally:
        os._exit(98)


def _close_all_but(*kept: int) -> None:
    first = 3
    for fd in sorted(kept):
        os.closerange(first, fd)
        first = fd + 1
    os.closerange(first, 256)


def _followed(told: int, inward: int, limits) -> dict:
    """Read what the child sends until it ends, is silent for too long or says too much."""
    begun = frames.receive(told)
    if begun is None or "child" not in begun:
        return {"sent": [], "ended": None, "why": (begun or {}).get("no cage", "the sandbox's child did not start")}
    patience = Patience(begun["child"], limits)
    sent, why = _heard(inward, limits, patience)
    if not why and not _comes(told, GRACE):
        why = "cell time"  # it has closed its pipe and goes on
    if why:
        with contextlib.suppress(ProcessLookupError):
            os.kill(begun["child"], signal.SIGKILL)
    ended = frames.receive(told)
    return {"sent": sent, "ended": (ended or {}).get("ended"), "why": why}


def _heard(inward: int, limits, patience: Patience) -> tuple[list, str]:
    """The messages of a child, and why no more were read ("" when it closed)."""
    sent, room = [], limits.output
    while not (why := patience.gone()):
        if not _comes(inward, LOOK):
            continue
        try:
            message = frames.receive(inward, deadline=time.monotonic() + GRACE, largest=room)
            size = frames.size(message) if message is not None else 0
        except frames.BrokenFrame as error:
            return sent, f"broken: {error}"
        if message is None:
            return sent, ""
        room -= size
        if room <= 0:
            return sent, "too much output"
        sent.append(message)
        patience.start_again()
    return sent, why


def _comes(fd: int, seconds: float) -> bool:
    """Is there something to read, or the end of it, within so many seconds?"""
    return bool(select.select([fd], [], [], seconds)[0])


if __name__ == "__main__":
    main("--own-code" in sys.argv, "--no-cage" not in sys.argv)
