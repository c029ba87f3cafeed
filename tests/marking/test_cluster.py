"""The same scripts on a Dask cluster: a scheduler and two workers, processes of their own on loopback."""

import pytest
from cohorts import filled_in, hostile_or_right, released, right_cells

from linkkit.marking.cluster import NoCluster, on_cluster
from linkkit.marking.handed_in import HandedIn
from linkkit.marking.one_script import Marked, Task
from loopback import cluster

pytestmark = pytest.mark.needs_bubblewrap


@pytest.fixture(scope="module")
def address(tmp_path_factory):
    """The address of a scheduler that has two workers."""
    with cluster(tmp_path_factory.mktemp("cluster"), workers=2) as there:
        yield there


def test_scripts_on_two_workers_get_their_marks(address):
    scripts = [HandedIn(f"s{n}", filled_in(hostile_or_right(n), f"s{n}")) for n in range(8)]
    results = {r.student: r for r in on_cluster(Task("four-links", released(), "a key"), scripts, address)}
    assert {s: r.marks for s, r in results.items()} == {f"s{n}": 36.0 if n % 4 == 3 else 38.0 for n in range(8)}


def test_same_pages_as_on_this_machine(address):
    from linkkit.marking.one_script import Marker

    task = Task("four-links", released(), "a key")
    script = HandedIn("ab123", filled_in(right_cells(), "ab123"))
    (there,) = on_cluster(task, [script], address)
    with Marker(task) as marker:
        here = marker.mark(script)
    assert isinstance(there, Marked)
    assert (there.page, there.notebook, there.verdicts) == (here.page, here.notebook, here.verdicts)


def test_no_scheduler_is_explained(monkeypatch):
    monkeypatch.setattr("linkkit.marking.cluster.PATIENCE", 1)
    with pytest.raises(NoCluster, match=r"tcp://127\.0\.0\.1:9"):
        list(on_cluster(Task("four-links", released(), "a key"), [], "tcp://127.0.0.1:9"))
