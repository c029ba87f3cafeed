"""Run one script in its child: the cells in turn, and after each question the student's answer as a plain value."""

from __future__ import annotations

import contextlib
import math
import random
from _thread import _count as threads  # as they are now: a script may put other functions into these modules
from os import _exit as end_now
from time import monotonic as clock
from time import sleep

from ...coursework.answers import plain
from ...coursework.own_code import without_linkkit
from . import frames, stand_in
from .shell import Alarm, CellTimeout, Shell, in_words, run_cell

THREADS_WAIT = 0.5  # seconds


def run(request: dict, shell: Shell, out: int) -> None:
    """Run the cells of a request, and send what there is to say about each as it comes.

    Every step is announced before it is tried, so that the outside knows what a sudden end was the fault of.
    """
    seconds = request["cell_seconds"]
    _same_chance(request["seed"])
    stand_in.lay_out(request["numbers"])
    shell.user_ns["__name__"] = "__main__"
    for step in request["steps"]:
        frames.send(out, {"at": step["id"]})
        if "source" in step:
            with without_linkkit() if request["own_code"] and step["own"] else contextlib.nullcontext():
                printed, error = run_cell(shell, step["source"], seconds)
            frames.send(out, {"ran": step["id"], "printed": printed, "error": error})
        else:
            frames.send(out, {"answer": step["id"], "raw": answer(shell.user_ns, step, seconds)})
        _end_with_its_threads()
    typed = shell.user_ns.get("student_id")
    frames.send(out, {"done": True, "typed": typed[:200] if type(typed) is str else ""})


def _end_with_its_threads() -> None:
    """Wait for threads that a cell has started; where one goes on, end here.

    A thread that does something later would do it at another cell in every run: so the cell that starts it is left out.
    """
    end = clock() + THREADS_WAIT
    while threads() and clock() < end:
        sleep(0.005)
    if threads():
        end_now(frames.LEFT_A_THREAD)


def _same_chance(seed: int) -> None:
    """Two runs of one script draw the same random numbers."""
    import numpy as np

    random.seed(seed)
    np.random.seed(seed)  # noqa: NPY002 (for scripts that use the old generator)


def answer(namespace: dict, step: dict, seconds: float):
    """A student's answer as a plain value; of a function, what it returns for each of the inputs."""
    value = namespace.get(step["name"])
    try:
        with Alarm(seconds):
            found = plain(value) if step["inputs"] is None else called(value, step, seconds)
            return finite(found)
    except BaseException as error:
        return {"failed": f"It could not be read: {in_words(error, seconds)}"}


def called(function, step: dict, seconds: float):
    """What a function returns for each input, failures as words."""
    if function is None:
        return None
    if not callable(function):
        return {"failed": f"{step['name']} is not a function but {type(function).__name__}."}
    return [_one(function, x, seconds) for x in step["inputs"]]


def _one(function, x, seconds: float):
    """One call: the number, or what it stopped with."""
    try:
        return float(function(*x) if isinstance(x, list) else function(x))
    except CellTimeout:
        raise
    except BaseException as error:
        said = in_words(error, seconds)
        return {"failed": f"It stopped with {said if said.partition(': ')[2] else said + 'no more is said'}."}


def finite(value):
    """The same with numbers that JSON does not have as words in a wrapping of their own."""
    if isinstance(value, float):
        return float(value) if math.isfinite(value) else {"not finite": repr(float(value))}
    if isinstance(value, dict):
        return {str(k): finite(v) for k, v in value.items()}
    return [finite(v) for v in value] if isinstance(value, list) else value
