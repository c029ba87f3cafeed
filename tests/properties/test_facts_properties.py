"""Facts of random linkages against the triangles that every text draws at the limit positions."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

import linkkit as lk
from strategies import FAMILIES, crank_rockers, double_cranks, quick_returns, slider_cranks
from tolerances import CLOSURE

FOUR_BARS = ["crank-rocker", "double-crank", "double-rocker", "triple-rocker"]
#: At an extreme the output is flat, so half the digits of the input there are lost, but not of the output.
FLAT = np.sqrt(CLOSURE)


def bars(linkage):
    """Ground, crank, coupler and rocker, metres."""
    return [linkage.length(*ends) for ends in (("O", "Q"), ("O", "A"), ("A", "B"), ("Q", "B"))]


def corner(a, b, opposite):
    """The angle between sides a and b of a triangle."""
    return np.arccos((a * a + b * b - opposite * opposite) / (2 * a * b))


@pytest.mark.parametrize("family", FOUR_BARS)
@given(data=st.data())
def test_class_is_the_one_it_was_made_for(family, data):
    assert lk.facts(data.draw(FAMILIES[family])).grashof_class == family


@given(crank_rockers)
def test_crank_rocker_swings_between_crank_and_coupler_in_line(linkage):
    """Limit positions: crank and coupler in line, extended and folded back; two triangles on the ground."""
    ground, crank, coupler, rocker = bars(linkage)
    facts = lk.facts(linkage)
    far, near = (corner(ground, rocker, coupler + sign * crank) for sign in (1, -1))
    assert facts.swing == pytest.approx(far - near, abs=FLAT)
    extended, folded = (corner(ground, coupler + sign * crank, rocker) for sign in (1, -1))
    turned = np.pi + abs(extended - folded)
    assert facts.time_ratio == pytest.approx(turned / (2 * np.pi - turned), rel=FLAT)
    assert len(facts.limits) == 2
    assert facts.ranges == []


@given(st.one_of(crank_rockers, double_cranks))
def test_transmission_angle_is_extreme_with_the_crank_on_the_ground_line(linkage):
    """The diagonal from A to Q is then the difference, or the sum, of ground and crank."""
    ground, crank, coupler, rocker = bars(linkage)
    expected = sorted(corner(coupler, rocker, ground + sign * crank) for sign in (-1, 1))
    assert lk.facts(linkage).transmission_angle == pytest.approx(tuple(expected), abs=CLOSURE / FLAT)


@given(double_cranks)
def test_double_crank_goes_round(linkage):
    facts = lk.facts(linkage)
    assert facts.swing == pytest.approx(2 * np.pi)
    assert facts.time_ratio is None
    assert len(facts.limits) == 0


@given(slider_cranks)
def test_slider_crank_stroke_and_time_ratio(linkage):
    """Crank and rod in line, extended and folded back: two right triangles over the offset."""
    crank, rod = linkage.length("O", "A"), linkage.length("A", "B")
    offset = linkage.slides[0].through.imag
    facts = lk.facts(linkage)
    far, near = (np.sqrt((rod + sign * crank) ** 2 - offset**2) for sign in (1, -1))
    assert facts.stroke == pytest.approx(far - near, rel=FLAT)
    lean = abs(np.arcsin(offset / (rod + crank)) - np.arcsin(offset / (rod - crank)))
    assert facts.time_ratio == pytest.approx((np.pi + lean) / (np.pi - lean), rel=FLAT)
    assert facts.swing is None


@given(quick_returns)
def test_quick_return_swings_or_goes_round(linkage):
    """Crank shorter than the centres: the lever's extremes are common tangents of crank circle and offset circle."""
    ground, crank = linkage.length("O", "Q"), linkage.length("O", "A")
    slide = linkage.slides[0]
    offset = abs((np.conj(slide.direction) * (linkage.points["Q"] - slide.through)).imag)
    facts = lk.facts(linkage)
    if crank > ground:
        assert facts.swing == pytest.approx(2 * np.pi)
        return
    touching = [np.arcsin((crank + sign * offset) / ground) for sign in (1, -1)]
    assert facts.swing == pytest.approx(sum(touching), abs=FLAT)


@pytest.mark.parametrize("family", ["double-rocker", "triple-rocker"])
@given(data=st.data())
def test_dead_centres_have_coupler_and_rocker_in_line(family, data):
    """Where the driven link is stopped, the diagonal is the sum or the difference of coupler and rocker."""
    linkage = data.draw(FAMILIES[family])
    ground, crank, coupler, rocker = bars(linkage)
    for angle in lk.facts(linkage).dead_centres:
        diagonal = abs(ground - crank * np.exp(1j * angle))
        off = min(abs(diagonal - coupler - rocker), abs(diagonal - abs(coupler - rocker)))
        assert off < FLAT * max(ground, crank)
