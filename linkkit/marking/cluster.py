"""The same work on a Dask cluster: every worker marks with `lanes.mark_here`, the gradebook stays with one writer here.

Dask is an optional extra (`pip install linkkit[cluster]`). Workers need this same version of linkkit, and bubblewrap.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from .handed_in import HandedIn
from .lanes import mark_here
from .one_script import Marked, Task

AHEAD = 3  # scripts under way for each thread of the cluster
PATIENCE = 20  # seconds for a scheduler to answer


class NoCluster(RuntimeError):
    """The cluster can't be used; the message says why."""


def on_cluster(task: Task, scripts: Iterable[HandedIn], address: str) -> Iterator[Marked | tuple[HandedIn, str]]:
    """Mark scripts on the cluster at an address; each as it is done, or with the reason why it was lost."""
    try:
        from distributed import Client, as_completed
    except ImportError:
        raise NoCluster("marking on a cluster needs Dask: pip install linkkit[cluster]") from None
    try:
        client = Client(address, timeout=PATIENCE, set_as_default=False)
    except (OSError, ValueError) as error:  # nobody there, or no address at all
        raise NoCluster(
            f"no Dask scheduler answers at {address}: {error}. An address is written tcp://host:8786"
        ) from None
    with client:
        lanes = sum(client.nthreads().values())
        if not lanes:
            raise NoCluster(f"the scheduler at {address} has no workers")
        shared = client.scatter(task, broadcast=True, hash=False)
        running = as_completed([], loop=client.loop, with_results=True, raise_errors=False)
        yield from _flow(client, running, shared, iter(scripts), AHEAD * lanes)


def _flow(client, running, shared, scripts: Iterator[HandedIn], most: int):
    """Keep so many scripts under way."""
    under_way: dict[str, HandedIn] = {}

    def send(handed: HandedIn) -> None:
        future = client.submit(mark_here, shared, handed, pure=False, retries=0)
        under_way[future.key] = handed
        running.add(future)

    for handed in (h for _, h in zip(range(most), scripts, strict=False)):
        send(handed)
    for future, result in running:
        handed = under_way.pop(future.key)
        lost = (handed, f"the cluster lost it: {str(result[1])[:200] if isinstance(result, tuple) else result}")
        yield result if future.status == "finished" else lost
        following = next(scripts, None)
        if following is not None:
            send(following)
