"""How many worked solutions a core writes in a second; run alone with `pytest -m speed tests/benchmarks/test_solutions.py`."""

import time

import pytest

from linkkit.coursework import find_assignment
from linkkit.coursework.papers import OUTLINES
from linkkit.solutions import render

PROMISE = 10.0  # pages a second a core
SLACK = 0.8  # what a machine that others use at the same time may take away
ROUNDS, PAGES = 4, 5


def seconds_a_page(name):
    """The processor time of a page: the least mean of some rounds, every id new, the equations derived before."""
    paper = find_assignment(name)
    render(paper, "warm")
    times = []
    for n in range(ROUNDS):
        start = time.process_time()
        for k in range(PAGES):
            render(paper, f"fast{n}-{k}")
        times.append((time.process_time() - start) / PAGES)
    return min(times)


@pytest.mark.parametrize("name", OUTLINES)
def test_ten_pages_a_second(name, record_property):
    pace = 1 / seconds_a_page(name)
    record_property("pages a second", pace)
    print(f"{name}: {pace:.0f} pages a second")
    assert pace >= SLACK * PROMISE, f"{name}: {pace:.1f} pages a second"
