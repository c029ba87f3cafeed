"""How many worked solutions a core writes in a second; run alone with `pytest -m speed tests/benchmarks/test_solutions.py`."""

from itertools import count

import pytest

from linkkit.coursework import find_assignment
from linkkit.coursework.papers import OUTLINES
from linkkit.solutions import render
from timing import SLACK, quickest, slowness

PROMISE = 10.0  # pages a second a core of the quiet machine
ROUNDS, PAGES = 4, 5


def seconds_a_page(name):
    """The processor time of a page: the least mean of some rounds, every id new, the equations derived before."""
    paper = find_assignment(name)
    render(paper, "warm")
    new = count()
    return quickest(lambda: [render(paper, f"fast{next(new)}") for _ in range(PAGES)], ROUNDS) / PAGES


@pytest.mark.parametrize("name", OUTLINES)
def test_ten_pages_a_second(name, record_property):
    pace = slowness() / seconds_a_page(name)
    record_property("pages a second", pace)
    print(f"{name}: {pace:.0f} pages a second")
    assert pace >= SLACK * PROMISE, f"{name}: {pace:.1f} pages a second"
