"""A. Peaucellier's exact straight line (1864): OP x OR = a^2 - b^2, and a circle through O inverts into a line."""

import numpy as np
import pytest
from linkages import peaucellier

import linkkit as lk
from tolerances import CLOSURE

ARM, SIDE, CRANK = 5.0, 2.0, 2.5


@pytest.fixture(scope="module")
def motion():
    return lk.move(peaucellier(ARM, SIDE, CRANK), np.radians(np.linspace(-60, 60, 241)))


def test_product_of_the_distances(motion):
    assert motion.ok.all()
    product = abs(motion.point("P")) * abs(motion.point("R"))
    assert product == pytest.approx(np.full(241, ARM**2 - SIDE**2), abs=CLOSURE * ARM**2)


def test_line(motion):
    """R runs on x = (25 - 4) / 5 = 4.2."""
    assert motion.point("R").real == pytest.approx(np.full(241, 4.2), abs=CLOSURE * ARM)
    assert np.ptp(motion.point("R").imag) > 2


def test_eight_links_and_ten_pairs():
    """Ten pairs, counting two at each pin of three links: (3 x 8 - 4) / 2."""
    linkage = peaucellier(ARM, SIDE, CRANK)
    assert (len(linkage.links), len(linkage.pairs), lk.mobility(linkage)) == (8, 10, 1)
