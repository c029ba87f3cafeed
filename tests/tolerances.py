"""The tolerances of the whole suite, each with its physical reason. There are four and no more."""

from decimal import Decimal

import pytest

#: Of the longest link: double precision keeps 16 digits; the square root of a closed form loses some of them
#: near a limit position, and a degree away from one 12 are left.
CLOSURE = 1e-12

#: Of size and pace: what a central difference leaves. Second order over 1e-4 rad is off by a sixth of its square
#: times the third derivative, fourth order over 1e-3 by less; both lose the rounding, 1e-16, over the step.
DIFFERENCE = 1e-6


def printed(text, *, units=0.5):
    """A value as its source prints it: right to half a unit of the last digit; to `units` if cut off."""
    number = Decimal(text)
    return pytest.approx(float(number), rel=0, abs=units * 10.0 ** number.as_tuple().exponent)


def drawn(value, percent):
    """A value that its source measured on a drawing: good to so many per cent, as graded beside it."""
    return pytest.approx(value, rel=percent / 100)
