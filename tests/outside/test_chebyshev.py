"""P. L. Chebyshev's straight-line linkage, 4 : 5 : 2, its cognate, and S. Roberts' theorem on cognates.

Proportions as in all texts; S. Roberts, On three-bar motion in plane space, Proceedings of the London Mathematical
Society 7 (1875) 14-23.
"""

import numpy as np
import pytest

import linkkit as lk
from tolerances import CLOSURE, printed

# ground, rocker, coupler; the tracer is the middle of the coupler
CROSSED = lk.four_bar(4, 5, 2, 5, "crossed").with_point("coupler", "P", 1)
FIRST, LAST = np.arctan2(3, 4), np.pi / 2  # the driven rocker, with the coupler upright at either end


def test_height_is_four_at_both_ends_and_in_the_middle():
    """Stroke 4, the length of the ground; the height there follows from 3-4-5 triangles.

    At the first end the driven link is at its limit, where half the digits are lost.
    """
    ends = lk.move(CROSSED, [FIRST + CLOSURE, np.arctan2(4, 3), LAST]).point("P")
    assert ends == pytest.approx([4 + 4j, 2 + 4j, 4j], abs=5 * np.sqrt(CLOSURE))


def test_departure_from_the_line():
    """Own figure, by an independent recomputation: 0.24384 per cent of the stroke between those three points."""
    tracer = lk.move(CROSSED, np.linspace(FIRST + 1e-9, LAST, 20001)).point("P")
    assert 100 * abs(tracer.imag - 4).max() / 4 == printed("0.24384")


def test_lambda_cognate_has_the_same_straightness():
    """Crank 1, ground 2, coupler and rocker 2.5, tracer 5 from the crank pin: 4 cranks long over half a turn."""
    linkage = lk.four_bar(2, 1, 2.5, 2.5).with_point("coupler", "P", 5)
    tracer = lk.move(linkage, np.radians(np.linspace(90, 270, 20001))).point("P")
    assert np.ptp(tracer.real) == pytest.approx(4)
    assert 100 * np.ptp(tracer.imag) / 4 == printed("0.243843")


@pytest.mark.parametrize("circuit", ["open", "crossed"])
@pytest.mark.parametrize("share", [0.5, 0.3 + 0.4j, 1.2 - 0.5j])
def test_cognate_draws_the_same_curve(share, circuit):
    """Roberts: crank and coupler change places, and all is turned and scaled as the tracer's triangle.

    With C = A + share (B - A), the cognate stands on O and share Q; its crank runs with the first coupler's angle.
    """
    ground, crank, coupler, rocker = 0.1, 0.3, 0.25, 0.35  # a double-crank: coupler and cognate turn fully too
    first = lk.four_bar(ground, crank, coupler, rocker, circuit)
    first = first.with_point("coupler", "C", coupler * np.real(share), coupler * np.imag(share))
    tilt = share / abs(share)
    curve = lk.move(first)
    pins = coupler * np.exp(1j * curve.angle("coupler")), crank * np.exp(1j * curve.angle("crank"))
    left = np.imag(np.conj(ground - pins[0]) * pins[1]) > 0
    assert left.all() or not left.any()
    sizes = abs(share) * np.array([ground, coupler, crank, rocker])
    cognate = lk.four_bar(*sizes, "open" if left.all() else "crossed")
    cognate = cognate.with_point("coupler", "C", crank * np.real(tilt), -crank * np.imag(tilt))
    drawn_again = tilt * lk.move(cognate, curve.angle("coupler")).point("C")
    assert np.max(abs(drawn_again - curve.point("C"))) < CLOSURE * max(*sizes, rocker)
