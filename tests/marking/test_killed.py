"""kill -9 at any moment of a marking run loses nothing and doubles nothing, and the next run goes on."""

import contextlib
import os
import pickle
import random
import shutil
import signal
import sqlite3
import subprocess
import sys
import time
from pathlib import Path

import psutil
import pytest
from cohorts import released

from linkkit.coursework import find_assignment
from linkkit.marking import stock
from linkkit.marking.course import Course
from linkkit.marking.gradebook import Gradebook
from linkkit.marking.one_script import Marked
from linkkit.marking.scripts import invented

pytestmark = pytest.mark.needs_bubblewrap
NAME, SCRIPTS = "four-links", 60
KILLS = int(os.environ.get("LINKKIT_KILLS", "3"))  # of the whole command, each with its start of three seconds
KILLS_WHILE_WRITING = 50
MARKS = """
    SELECT s.student_id, c.name, g.auto_score, g.manual_score, g.needs_manual_grade FROM grade g
    JOIN base_cell c ON c.id = g.cell_id JOIN submitted_notebook n ON n.id = g.notebook_id
    JOIN submitted_assignment s ON s.id = n.assignment_id ORDER BY 1, 2"""
HISTORY = """
    SELECT student, reason, script_hash, fingerprint, versions, seed, stamp, marks, late, record FROM linkkit_history
    ORDER BY student, number"""


def mark(course):
    return subprocess.Popen(
        [sys.executable, "-m", "linkkit.cli", "mark", NAME, "--course", str(course), "--workers", "2"],
        stdout=subprocess.PIPE, stderr=subprocess.STDOUT, start_new_session=True)  # fmt: skip


def contents(course):
    with sqlite3.connect(course / "gradebook.db") as db:
        assert db.execute("PRAGMA integrity_check").fetchone() == ("ok",)
        pages = {page.parts[-3]: page.read_text() for page in course.glob("feedback/*/*/*.html")}
        return db.execute(MARKS).fetchall(), db.execute(HISTORY).fetchall(), pages


def history(course):
    with sqlite3.connect(course / "gradebook.db") as db:
        return db.execute(HISTORY).fetchall() if entries(course) else []


def entries(course):
    with sqlite3.connect(course / "gradebook.db", timeout=30) as db:
        there = db.execute("SELECT name FROM sqlite_master WHERE name = 'linkkit_history'").fetchone()
        return db.execute("SELECT count(*) FROM linkkit_history").fetchone()[0] if there else 0


@pytest.fixture(scope="module")
def cohort(empty_course, tmp_path_factory):
    """A course with sixty mixed scripts handed in."""
    course = empty_course(tmp_path_factory.mktemp("cohort"))
    stock.hand_in(course, NAME, invented(find_assignment(NAME), SCRIPTS))
    for student, text in (("torn", released()[:900]), ("blank", released())):
        place = course / "submitted" / student / NAME / f"{NAME}.ipynb"
        place.parent.mkdir(parents=True)
        place.write_text(text)
    return course


@pytest.fixture(scope="module")
def serial(cohort, tmp_path_factory):
    """The same course marked in one clean run."""
    course = shutil.copytree(cohort, tmp_path_factory.mktemp("serial") / "course", symlinks=True)
    with mark(course) as run:
        assert run.wait() == 0, run.stdout.read().decode()
    return course


def test_killed_at_random_moments(cohort, serial, tmp_path):
    chance, family, kills = random.Random(5), [], 0
    for round_ in range(KILLS):
        course = shutil.copytree(cohort, tmp_path / f"{round_}", symlinks=True)
        while kills < KILLS and entries(course) < SCRIPTS - 10:
            kills += killed_with_its_start(course, chance, family)
            assert set(history(course)) <= set(history(serial))
        with mark(course) as run:
            assert run.wait() == 0, run.stdout.read().decode()
        assert contents(course) == contents(serial)
        assert len(contents(course)[1]) == SCRIPTS + 2
        if kills == KILLS:
            break
    assert psutil.wait_procs(family, timeout=5)[1] == [], "processes outlived the run that started them"
    assert len(family) > KILLS


def killed_with_its_start(course, chance, family):
    """Start the command and kill it at some moment; 0 if it had come to its end before."""
    run = mark(course)
    wait_for(course, run.poll, entries(course) + chance.choice([0, 1, 1, 2]), chance.uniform(0, 0.2))
    with contextlib.suppress(psutil.NoSuchProcess):
        family += psutil.Process(run.pid).children(recursive=True)
    run.kill()  # the one process; the rest has to notice by itself
    assert run.wait() in (0, -signal.SIGKILL), run.stdout.read().decode()
    run.stdout.close()
    return run.returncode != 0


def results_of(course):
    """What the marking of each script came to, from the history and the pages of a course."""
    with Gradebook(Course.open(course).db_url, NAME) as book:
        latest = book.latest()
    return {student: Marked(
        student=student, hash=e.script_hash, fingerprint=e.fingerprint, stamp=e.stamp, seed=e.seed, verdicts=e.verdicts,
        said=e.said, fault=e.fault, stopped=e.stopped,
        notebook=(course / "autograded" / student / NAME / f"{NAME}.ipynb").read_text(),
        page=(course / "feedback" / student / NAME / f"{NAME}.html").read_text(),
    ) for student, e in latest.items()}  # fmt: skip


def test_killed_fifty_times_while_it_writes(cohort, serial, tmp_path):
    """Many moments within the writing of pages, marks and history, which a start of three seconds would make dear."""
    chance, kept, states = random.Random(6), tmp_path / "results", []
    kept.write_bytes(pickle.dumps(results_of(serial)))
    for round_ in range(KILLS_WHILE_WRITING):
        course = shutil.copytree(cohort, tmp_path / f"{round_}", symlinks=True)
        command = [sys.executable, str(Path(__file__).with_name("writer.py")), str(course), NAME, str(kept)]
        with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as writer:
            while len(states) < KILLS_WHILE_WRITING and killed(course, writer, chance):
                states.append(entries(course))
                assert set(history(course)) <= set(history(serial))
            begin(writer)
            assert int(writer.stdout.readline()) == 0
            writer.stdin.close()
        assert contents(course) == contents(serial)
        if len(states) == KILLS_WHILE_WRITING:
            break
    assert len(set(states)) > KILLS_WHILE_WRITING / 5, f"the kills fell into few different states: {states}"


def killed(course, writer, chance):
    """Start a run and kill it at some moment; False if it had come to its end before."""
    child = begin(writer)
    goal = entries(course) + chance.choice([0, 1, 1, 2])
    wait_for(course, lambda: gone(child), goal, chance.uniform(0, 0.02))
    with contextlib.suppress(ProcessLookupError):
        os.kill(child, signal.SIGKILL)
    ended = int(writer.stdout.readline())
    assert ended in (0, -signal.SIGKILL), "a run failed by itself"
    return ended != 0


def begin(writer):
    """Start a run; its process."""
    writer.stdin.write("mark\n")
    writer.stdin.flush()
    return int(writer.stdout.readline())


def gone(child):
    """Has a process ended, waited for or not?"""
    return not psutil.pid_exists(child) or psutil.Process(child).status() == psutil.STATUS_ZOMBIE


def wait_for(course, ended, count, more):
    """Wait until so many scripts are in the history (all but the last few at most), and a little longer."""
    while entries(course) < min(count, SCRIPTS) and not ended():
        time.sleep(0.005)
    time.sleep(more)
