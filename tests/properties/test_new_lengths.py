"""`with_length`: one length is new, all others stay, and the circuit stays."""

from itertools import combinations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

import linkkit as lk
from linkkit.redraw import with_offset
from strategies import FAMILIES
from tolerances import CLOSURE

FACTOR = st.sampled_from([0.97, 0.99, 1.01, 1.03])
BARS = [name for name in FAMILIES if name not in ("quick return", "six-bar", "slider-crank")]


def lengths(linkage):
    """Every distance between two points of a link."""
    return {
        (link, p, q): linkage.length(p, q)
        for link, carried in linkage.links.items()
        for p, q in combinations(carried, 2)
    }


@pytest.mark.parametrize("family", FAMILIES)
@given(data=st.data(), factor=FACTOR)
def test_only_the_named_length_changes(family, data, factor):
    linkage = data.draw(FAMILIES[family])
    link, p, q = data.draw(st.sampled_from([key for key in lengths(linkage) if key[0] in ("crank", "coupler", "rod")]))
    changed = linkage.with_length(p, q, factor * linkage.length(p, q))
    before, after = lengths(linkage), lengths(changed)
    assert after.pop((link, p, q)) == pytest.approx(factor * before.pop((link, p, q)), rel=CLOSURE)
    if len(linkage.links[link]) == 2:
        size = max(before.values())
        assert all(abs(after[key] - before[key]) < CLOSURE * size for key in before)


@pytest.mark.parametrize("family", BARS)
@given(data=st.data(), factor=FACTOR)
def test_there_and_back_is_the_same_motion(family, data, factor):
    """A four-bar redrawn with another coupler and back again moves as before, on the circuit it had."""
    linkage = data.draw(FAMILIES[family])
    coupler = linkage.length("A", "B")
    back = linkage.with_length("A", "B", factor * coupler).with_length("A", "B", coupler)
    before, after = lk.move(linkage, steps=24), lk.move(back, steps=24)
    inside = before.ok & after.ok
    assert (before.ok == after.ok).mean() > 0.9
    near_limit = abs(abs(np.cos(transmission(before))) - 1) < 1e-3
    assert np.max(abs(before.point("B") - after.point("B"))[inside & ~near_limit], initial=0) < 10 * CLOSURE * coupler


def transmission(motion):
    """The angle between coupler and rocker."""
    return np.nan_to_num(motion.angle("coupler") - motion.angle("rocker"))


@pytest.mark.parametrize("ends", ["OQ", "QO"])
def test_either_end_of_the_fixed_link_may_move(ends):
    """Also the end at which the input stands."""
    changed = lk.four_bar(0.4, 0.12, 0.35, 0.25).with_length(*ends, 0.45)
    wanted = {"OQ": 0.45, "OA": 0.12, "AB": 0.35, "QB": 0.25}
    assert {pair: changed.length(*pair) for pair in wanted} == pytest.approx(wanted, rel=CLOSURE)
    assert lk.facts(changed).swing == pytest.approx(lk.facts(lk.four_bar(0.45, 0.12, 0.35, 0.25)).swing)


@given(offset=st.floats(-0.35, 0.35))
def test_a_guide_set_aside_is_one_built_so(offset):
    moved, built = with_offset(lk.slider_crank(0.1, 0.3), "slide", offset), lk.slider_crank(0.1, 0.3, offset=offset)
    angles = np.linspace(0, 2 * np.pi, 24)
    one, two = lk.move(moved, angles), lk.move(built, angles)
    near_limit = abs(0.1 * np.sin(angles) - offset) > 0.3 - 1e-6
    assert (one.ok == two.ok)[~near_limit].all()
    both = one.ok & two.ok & ~near_limit
    assert np.abs((one.point("B") - two.point("B"))[both]).max(initial=0) < 1e-10
