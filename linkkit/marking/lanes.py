"""Many scripts at once: lanes on this machine, each a process of its own with a warm sandbox, or on a Dask cluster.

A lane that dies takes no other script with it, and only a few scripts are under way at a time, so memory stays flat.
"""

from __future__ import annotations

import ctypes
import os
import signal
from collections.abc import Iterable, Iterator
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from multiprocessing import get_context

from .handed_in import HandedIn
from .one_script import Marked, Marker, Task

AHEAD = 2  # scripts waiting for each lane
DIE_WITH_PARENT = 1  # of prctl

_here: dict[str, Marker] = {}


def _begin(parent: int) -> None:
    """Start of a lane: it ends when the one that started it does, however that ends."""
    ctypes.CDLL(None).prctl(DIE_WITH_PARENT, signal.SIGKILL)
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    if os.getppid() != parent:
        os._exit(1)


def mark_here(task: Task, handed: HandedIn) -> Marked:
    """Mark a script in this process, in a sandbox that is kept warm from one script to the next."""
    marker = _here.get(task.fingerprint)
    if marker is None:
        for old in _here.values():
            old.close()
        _here.clear()
        marker = _here[task.fingerprint] = Marker(task)
    return marker.mark(handed)


def in_order_of_finish(
    task: Task, scripts: Iterable[HandedIn], workers: int
) -> Iterator[Marked | tuple[HandedIn, str]]:
    """Mark scripts in so many lanes; each as it is done, or with the reason why its lane failed."""
    scripts = iter(scripts)
    again: list[HandedIn] = []
    while True:
        yield from _until_broken(task, scripts, workers, again)
        if not again:
            return
        # a lane died with several scripts under way; each of them alone shows which one it was
        for handed in again:
            lost: list[HandedIn] = []
            yield from _until_broken(task, iter([handed]), 1, lost)
            yield from ((one, "the process that marked it was killed, for want of memory perhaps") for one in lost)
        again = []


def _until_broken(task: Task, scripts: Iterator[HandedIn], workers: int, lost: list[HandedIn]) -> Iterator[Marked]:
    """Mark until the scripts are used up or a lane dies; what was under way then is put into `lost`."""
    with ProcessPoolExecutor(workers, get_context("spawn"), _begin, (os.getpid(),)) as pool:
        under_way: dict[Future, HandedIn] = {}
        try:
            for handed in scripts:
                under_way[pool.submit(mark_here, task, handed)] = handed
                while len(under_way) >= AHEAD * workers:
                    yield from _finished(under_way)
            while under_way:
                yield from _finished(under_way)
        except BrokenProcessPool:
            lost += [handed for future, handed in under_way.items() if not _has_result(future)]
            yield from [future.result() for future in under_way if _has_result(future)]


def _has_result(future: Future) -> bool:
    return future.done() and not future.cancelled() and future.exception() is None


def _finished(under_way: dict[Future, HandedIn]) -> list[Marked]:
    """Those that are done, at least one."""
    done = wait(under_way, return_when=FIRST_COMPLETED).done
    results = [future.result() for future in done]
    for future in done:
        del under_way[future]
    return results
