"""What is near enough, at both edges, about zero, below zero and modulo a turn."""

import numpy as np
import pytest

from linkkit.coursework.tolerance import calculated, coded, drawn

EDGES = [  # (tolerance, right, accepted distance): as its statement says
    (calculated("mm"), 0.250, 0.0025),
    (calculated("mm"), -0.250, 0.0025),
    (calculated("mm"), 0.0, 0.0002),
    (calculated("mm"), 0.001, 0.0002),
    (calculated(""), 1.2, 0.012),
    (calculated(""), 0.0, 0.005),
    (calculated("deg"), 3.0, np.radians(0.5)),
    (drawn("deg", 2), 3.0, np.radians(2)),
    (drawn("mm", 5), 0.4, 0.005),
    (coded("rad"), 3.0, 1e-6),
    (coded("mm"), 2.0, 2e-6),
]


@pytest.mark.parametrize(("tolerance", "right", "width"), EDGES)
def test_edges(tolerance, right, width):
    for side in (1, -1):
        assert tolerance.holds(right + side * width * 0.999, right)
        assert not tolerance.holds(right + side * width * 1.001, right)


@pytest.mark.parametrize("turns", [-2, -1, 1, 3])
def test_directions_compare_modulo_a_turn(turns):
    away = 2 * np.pi * turns
    assert calculated("deg", turn=True).holds(1.0 + away, 1.0)
    assert not calculated("deg").holds(1.0 + away, 1.0)
    assert calculated("deg", turn=True).holds(np.pi - 0.001 + away, -np.pi + 0.001)


@pytest.mark.parametrize("value", [np.nan, np.inf, -np.inf])
def test_what_is_not_finite_is_never_right(value):
    assert not calculated("mm").holds(value, 0.25)
    with np.errstate(invalid="ignore"):
        assert not calculated("deg", turn=True).holds(value, 0.25)


def test_apart_means_no_value_is_accepted_for_both():
    tolerance = calculated("deg")
    assert not tolerance.apart(1.0, 1.0 + np.radians(0.99))
    assert tolerance.apart(1.0, 1.0 + np.radians(1.01))
    assert tolerance.apart(1.0, np.nan)


def test_sentences_say_what_is_done():
    assert calculated("mm").sentence("mm").endswith("Accepted within 1 % of the value, or 0.2 mm if that is more.")
    assert drawn("deg", 2).sentence("deg") == "Draw it to a scale of 1 : 2. Accepted within 2 degrees."
    assert "1e-06 radians" in coded("rad").sentence("rad")
