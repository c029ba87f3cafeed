"""Classes of four-bars: F. Grashof, Theoretische Maschinenlehre II (1883): shortest + longest against the rest."""

import numpy as np
import pytest

import linkkit as lk

# (ground, crank, coupler, rocker), class, source of the proportions
CASES = [
    ((100, 40, 120, 80), "crank-rocker", "R. L. Norton, Design of Machinery, example 4-1 (from memory)"),
    ((40, 120, 80, 100), "double-crank", "the same chain, shortest link fixed"),
    ((120, 80, 100, 40), "rocker-crank", "the same chain, driven from the link opposite the shortest"),
    ((80, 100, 40, 120), "double-rocker", "the same chain, shortest link as coupler"),
    ((200, 62.5, 175, 112.5), "crank-rocker", "Khurmi and Gupta, Theory of Machines, 14th ed. 2005, 8.4, p. 184"),
    ((150, 40, 150, 80), "crank-rocker", "Khurmi and Gupta, 7.1, p. 148 (two lengths from memory)"),
    ((8, 2.5, 7, 4.5), "crank-rocker", "T. Bevan, The Theory of Machines, p. 98"),
    ((4, 5, 2, 5), "double-rocker", "P. L. Chebyshev's straight-line linkage, 4 : 5 : 2"),
    ((2.2, 1, 2.8, 2.8), "crank-rocker", "Hoecken's straight-line linkage (Norton's table, from memory)"),
    ((5, 4, 3, 3.5), "triple-rocker", "5 + 3 > 4 + 3.5: Grashof's law"),
]


@pytest.mark.parametrize(("lengths", "expected", "source"), CASES)
def test_class(lengths, expected, source):
    assert lk.facts(lk.four_bar(*lengths)).grashof_class == expected, source


@pytest.mark.parametrize(("lengths", "expected", "source"), CASES)
def test_crank_turns_fully_only_where_the_class_says_so(lengths, expected, source):
    """The law itself, looked at on the motion and not on the lengths."""
    motion = lk.move(lk.four_bar(*lengths), steps=720)
    assert motion.ok.all() == (expected in ("crank-rocker", "double-crank")), source


@pytest.mark.parametrize(
    ("lengths", "case"),
    [((4, 2, 4, 2), "parallelogram"), ((3, 3, 2, 2), "kite"), ((2, 3, 3, 2), "kite"), ((5, 2, 4, 3), "crank-rocker")],
)
def test_change_points(lengths, case):
    """Shortest + longest equal to the rest: all links can come into line."""
    facts = lk.facts(lk.four_bar(*lengths))
    assert facts.grashof_class == "change point"
    assert facts.change_point_case == case
    assert len(facts.change_points) >= 1 or np.isfinite(facts.dead_centres).any()
