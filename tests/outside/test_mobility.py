"""Mobility counts that every text gives: M. Gruebler (1883) and K. Kutzbach (1929), 3 (n - 1) - 2 j."""

import numpy as np
import pytest
from linkages import peaucellier, with_ram

import linkkit as lk
from strategies import quick_return


def loop(count):
    """A closed loop of so many bars, one of them fixed."""
    corners = np.exp(2j * np.pi * np.arange(count) / count)
    points = {f"P{n}": complex(z) for n, z in enumerate(corners)}
    links = {f"bar {n}": (f"P{n}", f"P{(n + 1) % count}") for n in range(count)}
    return lk.Linkage(points, links, "bar 0")


def parallelogram(cranks):
    """A coupler on so many equal parallel cranks: beyond two they are redundant."""
    points, links = {}, {"ground": (), "coupler": ()}
    for n in range(cranks):
        foot = 1.0 * n + (0.3j if n == 2 else 0)
        points |= {f"O{n}": foot, f"A{n}": foot + 0.4 + 0.5j}
        links |= {f"crank {n}": (f"O{n}", f"A{n}")}
        links["ground"] += (f"O{n}",)
        links["coupler"] += (f"A{n}",)
    turn = lk.Input("turn", "angle", "O0", ("ground", "crank 0"))
    return lk.Linkage(points, links, "ground", inputs=(turn,))


def shared_pin():
    """Four bars from fixed pivots to one pin, counted as three pairs: a structure with one bar too many... by two."""
    points = {"A": 0j, "B": 1 + 0j, "C": 2 + 0j, "P": 1 + 1j}
    links = {"ground": ("A", "B", "C"), "a": ("A", "P"), "b": ("B", "P"), "c": ("C", "P")}
    return lk.Linkage(points, links, "ground")


@pytest.mark.parametrize(
    ("linkage", "expected"),
    [
        (loop(3), 0),  # a triangle is a structure
        (lk.four_bar(0.4, 0.1, 0.35, 0.25), 1),
        (loop(5), 2),  # the five-bar wants two inputs
        (loop(6), 3),
        (lk.slider_crank(0.1, 0.3), 1),
        (quick_return(0.3, 0.12), 1),
        (with_ram(quick_return(0.3, 0.12), 0.5, 0.45, 0.6), 1),
        (peaucellier(5, 2, 2.5), 1),  # two pairs at each of its pins of three links
        (shared_pin(), -1),
    ],
    ids=[
        "triangle",
        "four-bar",
        "five-bar",
        "six-bar loop",
        "slider-crank",
        "quick return",
        "shaper",
        "Peaucellier",
        "tripod",
    ],
)
def test_count(linkage, expected):
    assert lk.mobility(linkage) == expected


def test_count_does_not_see_special_proportions():
    """Three equal parallel cranks: counted as a structure, they move all the same (the usual exception in texts)."""
    linkage = parallelogram(3)
    assert lk.mobility(linkage) == 0
    free = lk.freedom(linkage)
    assert (free.count, free.true, free.redundant) == (0, 1, 1)
    assert lk.freedom(parallelogram(2)).redundant == 0
    assert lk.move(linkage, steps=24).ok.all()
