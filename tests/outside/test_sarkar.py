"""B. K. Sarkar, Theory of Machines: examples 1.1 (p. 15), 1.2 (p. 16) and 12.1 (p. 310)."""

import numpy as np
import pytest

import linkkit as lk
from strategies import quick_return
from tolerances import printed


def test_1_1_inclination_of_the_lever():
    """Centres 200, crank 100 mm: in its extreme positions the lever leans 30 degrees to the line of centres."""
    facts = lk.facts(quick_return(0.200, 0.100))
    leaning = np.degrees(facts.limit_outputs) - 180
    assert sorted(leaning) == [printed("-30.00"), printed("30.00")]


def test_1_2_time_ratio():
    """Centres 300, crank 150 mm."""
    assert lk.facts(quick_return(0.300, 0.150)).time_ratio == printed("2.0")
    assert np.degrees(lk.facts(quick_return(0.300, 0.150)).swing) == printed("60.0")


def test_12_1_single_cylinder_balance():
    """250 rpm, crank 90, counterweight 150 mm out; 120 kg to and fro, of which two thirds, and 70 kg in turn; 30 degrees."""
    found = lk.part_balance(
        crank=0.09, reciprocating=120, rotating=70, share=2 / 3, radius=0.15, speed=250 * np.pi / 30
    )
    assert found.mass == printed("90.0")
    assert abs(found.residual(np.radians(30))) == pytest.approx(3263.971, abs=0.5)  # the book takes 57.3 for a radian
