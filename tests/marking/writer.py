"""Marks a course again and again from results kept in a file, each time in a child that may be killed.

Started by test_killed.py, which writes a line for each run it wants. All is loaded once, so that a run is over in a second and
a kill falls into the writing of pages and marks rather than into starting up.
"""

import os
import pickle
import sys
from pathlib import Path

from linkkit.marking import lanes
from linkkit.marking.course import Course
from linkkit.marking.gradebook import Gradebook, quiet_nbgrader
from linkkit.marking.run import Report, cohort, task_of


def mark(place, name, results):
    """What `linkkit mark` does, but for the sandbox: the results are there already."""
    lanes.in_order_of_finish = lambda task, scripts, workers: (results[handed.student] for handed in scripts)
    course = Course.open(place)
    with course.one_writer():
        task = task_of(course, name)
        with Gradebook(course.db_url, name) as book:
            cohort(course, book, task, Report())


def main(place, name, kept):
    """A child for each line on standard input: its number, then how it ended."""
    results = pickle.loads(Path(kept).read_bytes())
    quiet_nbgrader()
    for _ in sys.stdin:
        child = os.fork()
        if not child:
            code = 1
            try:
                mark(Path(place), name, results)
                code = 0
            finally:
                os._exit(code)
        print(child, flush=True)
        print(os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]), flush=True)


if __name__ == "__main__":
    main(*sys.argv[1:])
