"""How fast a cohort is marked: against nbgrader's own commands, over hundreds of scripts, and on a cluster.

All of it is measured in one run, on the same processors and of the same right scripts, gradebook and feedback
included. Our start-up is counted, and nbgrader's is not.
"""

import json
import os
import shutil
import time
from contextlib import ExitStack
from pathlib import Path

import pytest
from watching import Watched

from linkkit.coursework import find_assignment
from linkkit.marking import stock
from linkkit.marking.cluster import on_cluster
from linkkit.marking.course import Course
from linkkit.marking.handed_in import read
from linkkit.marking.numbers import with_numbers
from linkkit.marking.run import task_of
from linkkit.marking.scripts import right
from loopback import cluster
from timing import SLACK

# The promises, for a quiet machine: scripts a minute by nbgrader's, part of linear of two workers, growth of memory
PACE_FLOOR, LINEAR_FLOOR, GROWTH_CEILING = 12, 0.8, 1.05
NAME, STOCK, COHORT = "four-links", 3, 300  # the assignment; scripts of each half; all scripts
HALVES = "before", "after"  # the first ids: nbgrader marks these before and after our run, so a drift meets both
ALLOWANCE = 4 << 20  # bytes by which a process may grow in any case: an allocator's whole arenas
TO_NBGRADER = [f"{half}{n}" for half in HALVES for n in range(STOCK)]
STUDENTS = TO_NBGRADER + [f"further{n:03d}" for n in range(COHORT - 2 * STOCK)]
ROOT = Path(__file__).parents[2]

pytestmark = pytest.mark.needs_bubblewrap


@pytest.fixture(scope="module", autouse=True)
def compiled_bytecode():
    """Every process of both sides may keep its compiled modules: without them imports cost four times as much."""
    with pytest.MonkeyPatch.context() as patch:
        patch.delenv("PYTHONDONTWRITEBYTECODE", raising=False)
        yield


@pytest.fixture(scope="module")
def course(tmp_path_factory):
    """A course to which a cohort of right scripts was handed in."""
    place = tmp_path_factory.mktemp("course")
    stock.scratch_course(ROOT / "exercises", NAME, place)
    stock.nbgrader(place, "generate_assignment", NAME)
    stock.hand_in(place, NAME, (right(find_assignment(NAME), student) for student in STUDENTS))
    return place


@pytest.fixture(scope="module")
def by_nbgrader(course, tmp_path_factory):
    """The same course with the same scripts of the first ids, for nbgrader's own commands."""
    place = tmp_path_factory.mktemp("stock") / "course"
    others = shutil.ignore_patterns("further*")
    return Path(shutil.copytree(course, place, ignore=others))


def seconds(work, *words):
    """How long something takes."""
    start = time.perf_counter()
    work(*words)
    return time.perf_counter() - start


def nbgraders_time(place, students):
    """The time that nbgrader takes for each of so many whose ids begin alike, less that of starting its commands."""
    starting = seconds(stock.nbgrader, place, "--version")
    commands = [seconds(stock.nbgrader, place, command, NAME, "--student", f"{students}*")
                for command in ("autograde", "generate_feedback")]  # fmt: skip
    return (sum(commands) - 2 * starting) / STOCK


@pytest.fixture(scope="module")
def both(course, by_nbgrader):
    """(nbgrader's seconds a script, our run of the cohort), nbgrader's half before and half after ours."""
    before = nbgraders_time(by_nbgrader, HALVES[0])
    ours = Watched(course, NAME, "--workers", str(len(os.sched_getaffinity(0))))
    after = nbgraders_time(by_nbgrader, HALVES[1])
    return (before + after) / 2, ours


def test_scripts_a_minute_against_nbgrader(both, course, by_nbgrader, record_property):
    theirs, ours = both[0], both[1].seconds / COHORT
    record_property("times nbgrader", theirs / ours)
    for place, number in ((course, COHORT), (by_nbgrader, len(TO_NBGRADER))):
        assert list(stock.marks(place, NAME).values()) == [find_assignment(NAME).marks] * number
        assert len(list(place.glob("feedback/*/*/*.html"))) == number
    said = f"{theirs * 1e3:.0f} ms a script by nbgrader, {ours * 1e3:.0f} by linkkit: {theirs / ours:.1f} times"
    print(said)
    assert theirs / ours > PACE_FLOOR, said


def test_memory_stays_flat_over_a_cohort(both):
    found = both[1].grown()
    print([f"{early >> 20} to {late >> 20} MB" for early, late in found])
    workers = len(os.sched_getaffinity(0))
    assert len(found) >= 1 + 2 * workers, "the run, its lanes, and the warm process of each were not all seen"
    assert all(late < early * GROWTH_CEILING + ALLOWANCE for early, late in found), found


def test_two_workers_of_a_cluster_do_the_work_of_two(course, tmp_path_factory):
    task, found = task_of(Course.open(course), NAME), {1: [], 2: []}
    read_in = (read(course, NAME, student) for student in STUDENTS[:48])
    scripts = list(with_numbers(find_assignment(NAME), STUDENTS[:48], read_in))

    def rate(address, workers):
        some = scripts[: 24 * workers]
        return len(some) / seconds(list, on_cluster(task, some, address))

    with ExitStack() as open_clusters:
        there = {n: open_clusters.enter_context(cluster(tmp_path_factory.mktemp("dask"), n)) for n in found}
        for workers, address in there.items():
            rate(address, workers)  # each worker's sandbox gets warm
        for _ in range(3):
            for workers, address in there.items():
                found[workers].append(rate(address, workers))
    part = max(found[2]) / max(found[1]) / 2
    said = f"{part:.2f} of linear: {json.dumps(found)} scripts a second"
    print(said)
    assert part > LINEAR_FLOOR * SLACK, said
