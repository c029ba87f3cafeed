"""B. K. Sarkar, Theory of Machines: crank and slotted lever, examples 1.1 (p. 15) and 1.2 (p. 16)."""

import numpy as np

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
