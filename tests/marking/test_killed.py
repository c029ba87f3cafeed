"""kill -9 at any moment of a marking run loses nothing and doubles nothing, and the next run goes on."""

import os
import random
import signal
import sqlite3
import subprocess
import sys
import time

import psutil
import pytest
from cohorts import released

from linkkit.coursework import find_assignment
from linkkit.marking import stock
from linkkit.marking.scripts import invented

pytestmark = pytest.mark.needs_bubblewrap
NAME, SCRIPTS = "four-links", 60
KILLS = int(os.environ.get("LINKKIT_KILLS", "8" if os.environ.get("CI") else "4"))
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


@pytest.fixture
def cohort(empty_course, tmp_path):
    """A course with sixty mixed scripts handed in; a function that copies it."""
    course = empty_course(tmp_path)
    stock.hand_in(course, NAME, invented(find_assignment(NAME), SCRIPTS))
    for student, text in (("torn", released()[:900]), ("blank", released())):
        place = course / "submitted" / student / NAME / f"{NAME}.ipynb"
        place.parent.mkdir(parents=True)
        place.write_text(text)
    return course


def test_killed_at_random_moments(cohort, copy_course):
    serial = copy_course(cohort)
    with mark(serial) as run:
        assert run.wait() == 0, run.stdout.read().decode()
    chance, family = random.Random(5), []
    for _ in range(KILLS):
        run = mark(cohort)
        wait_for(cohort, run, entries(cohort) + chance.choice([0, 1, 1, 2]), chance.uniform(0, 0.2))
        family += psutil.Process(run.pid).children(recursive=True)
        os.kill(run.pid, signal.SIGKILL)  # the one process; the rest has to notice by itself
        assert run.wait() == -signal.SIGKILL, "the run had ended before it was killed"
        run.stdout.close()
        assert set(history(cohort)) <= set(history(serial))
    with mark(cohort) as run:
        assert run.wait() == 0, run.stdout.read().decode()
    assert contents(cohort) == contents(serial)
    assert len(contents(cohort)[1]) == SCRIPTS + 2
    assert psutil.wait_procs(family, timeout=5)[1] == [], "processes outlived the run that started them"
    assert len(family) > KILLS


def wait_for(course, run, count, more):
    """Wait until so many scripts are in the history (all but the last few at most), and a little longer."""
    while entries(course) < min(count, SCRIPTS) and run.poll() is None:
        time.sleep(0.02)
    time.sleep(more)
