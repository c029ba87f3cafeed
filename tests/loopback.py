"""A Dask cluster on loopback: a scheduler and its workers, each a process of its own, as on a real one."""

import contextlib
import os
import subprocess
import sys
import time

COMMON = ("--no-dashboard", "--scheduler-file")
QUIET = {"DASK_DISTRIBUTED__WORKER__PROFILE__ENABLED": "False"}  # else a worker looks at itself 100 times a second


@contextlib.contextmanager
def cluster(folder, workers):
    """The address of a scheduler that has so many workers of one thread each; all are ended afterwards."""
    from distributed import Client

    file, running = folder / "scheduler.json", []
    start = ["-m", "distributed.cli.dask_scheduler", "--host", "127.0.0.1", "--port", "0"]
    work = [
        "-m",
        "distributed.cli.dask_worker",
        "--nthreads",
        "1",
        "--nworkers",
        str(workers),
        "--local-directory",
        folder,
    ]
    try:
        with open(folder / "log", "w") as log:
            for words in (start, work):
                command = [sys.executable, *words, *COMMON, file]
                running.append(subprocess.Popen(command, stdout=log, stderr=log, cwd=folder, env=os.environ | QUIET))
        wait_for(file)
        with Client(scheduler_file=str(file), set_as_default=False) as client:
            client.wait_for_workers(workers, timeout=60)
            yield client.scheduler.address
    finally:
        for process in reversed(running):  # workers that lose their scheduler first wait 8 s for it
            process.terminate()
            process.wait(20)


def wait_for(file, seconds=60):
    """Wait until the scheduler has written where it is."""
    end = time.monotonic() + seconds
    while not file.exists():
        assert time.monotonic() < end, (file.parent / "log").read_text()
        time.sleep(0.05)
