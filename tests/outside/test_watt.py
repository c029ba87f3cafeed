"""J. Watt's linkage: its midpoint's curve in polar form, and the lemniscate among them (any text on plane curves).

Bars b about (-a, 0) and (a, 0), coupler 2 c: r^2 = b^2 - (a sin t +- sqrt(c^2 - a^2 cos^2 t))^2.
"""

import numpy as np
import pytest

import linkkit as lk
from tolerances import CLOSURE


def traced(a, b, c, circuit):
    """The middle of the coupler seen from the middle of the ground."""
    linkage = lk.four_bar(2 * a, b, 2 * c, b, circuit).with_point("coupler", "P", c)
    motion = lk.move(linkage, steps=720)
    return motion, motion.point("P")[motion.ok] - a


@pytest.mark.parametrize("lengths", [(2.0, 1.0, 1.4), (1.0, 1.3, 0.6), (1.5, 2.0, 1.1)])
@pytest.mark.parametrize("circuit", ["open", "crossed"])
def test_polar_equation(lengths, circuit):
    a, b, c = lengths
    _, place = traced(a, b, c, circuit)
    rise = a * place.imag / abs(place)  # a sin t
    square = c**2 - a**2 + rise**2  # c^2 - a^2 cos^2 t
    off = (b**2 - abs(place) ** 2 - rise**2 - square) ** 2 - 4 * rise**2 * square  # without the root
    assert len(place) > 100
    assert np.max(abs(off)) < CLOSURE * (2 * a + b) ** 4


def test_lemniscate():
    """a = c and b = a sqrt 2: Bernoulli's lemniscate, distances to the fixed pivots with product a^2, crossed."""
    motion, place = traced(1.0, np.sqrt(2), 1.0, "crossed")
    assert motion.ok.all()
    clear = np.min([abs(motion.input - x) for x in (0, np.pi, 2 * np.pi)], axis=0) > np.radians(1)
    place = place[clear]
    assert np.max(abs(abs(place - 1) * abs(place + 1) - 1)) < 10 * CLOSURE
    assert np.max(abs(abs(place) ** 4 - 2 * (place**2).real)) < 10 * CLOSURE  # r^2 = 2 a^2 cos 2t


def test_circle():
    """The same bars as a parallelogram: the middle goes round a circle of radius b."""
    motion, place = traced(1.0, np.sqrt(2), 1.0, "open")
    assert motion.ok.all()
    assert np.max(abs(abs(place) - np.sqrt(2))) < 10 * CLOSURE
