"""A small nbgrader course with marks put in, made in a moment: its gradebook knows the assignment and nothing was run."""

import random
import shutil
import tempfile
from datetime import UTC, datetime, timedelta
from functools import cache
from pathlib import Path

from linkkit.coursework import find_assignment
from linkkit.coursework.verdict import Verdict
from linkkit.marking.course import Course
from linkkit.marking.gradebook import Gradebook, quiet_nbgrader
from linkkit.marking.history import Entry

NOON = datetime(2031, 3, 5, 12, tzinfo=UTC)


def cell_of(question):
    """The name of a question's marked cell."""
    name = question.id.replace("_", "-")
    return f"{name}-answer" if question.marked_by_hand else f"{name}-is-{question.claim}"


def small_course(folder, name):
    """A course whose gradebook has the assignment: a copy of one that was made once, for that takes seconds."""
    shutil.copytree(_made(name).name, folder)
    return Course.open(folder)


@cache
def _made(name):
    place = tempfile.TemporaryDirectory(prefix="course-")
    (Path(place.name) / "nbgrader_config.py").write_text("c = get_config()\nc.CourseDirectory.course_id = 'quay'\n")
    book = quiet_nbgrader().Gradebook(Course.open(Path(place.name)).db_url)
    book.add_assignment(name)
    book.add_notebook(name, name)
    for question in find_assignment(name).questions:
        book.add_grade_cell(cell_of(question), name, name, max_score=question.marks, cell_type="code")
    book.close()
    return place


def entry(paper, student, right, *, script="a", hours=0.0, reason="first marking", fault=""):
    """A marked script: `right` says of each question (by its place) whether it is; wrong ones have a known cause."""
    verdicts = {cell_of(q): verdict(q, ok) for q, ok in zip(paper.questions, right, strict=True)}
    stamp = (NOON + timedelta(hours=hours)).strftime("%Y-%m-%d %H:%M:%S UTC")
    marks = sum(v.marks or 0.0 for v in verdicts.values())
    return Entry(student, reason, script * 64, "f" * 16, {"linkkit": "0.1"}, 7, stamp, marks, 0.0, verdicts, (), fault)


def verdict(question, ok):
    if question.marked_by_hand:
        return Verdict(None, question.marks, "Not marked: a tutor marks this one.", "by-hand")
    if ok:
        return Verdict(question.marks, question.marks, "Right.", "right", "1")
    known = question.misconceptions[0]
    return Verdict(0.0, question.marks, known.says, known.code, "2")


def cohort(paper, count, seed=1):
    """Scripts of invented students of different skill: the better the student, the more is right."""
    draw = random.Random(seed)
    for n in range(count):
        skill = draw.gauss(0, 1.5)
        right = [draw.random() < 1 / (1 + 2.718 ** -(skill - (k - 4) / 4)) for k in range(len(paper.questions))]
        yield entry(paper, f"student{n:03d}", right, hours=24 * draw.random() * 3)


def record(course, name, entries):
    """Put entries into the history and the gradebook."""
    with Gradebook(course.db_url, name) as book:
        for one in entries:
            book.record(one)
