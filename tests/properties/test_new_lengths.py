"""`with_length`: one length is new, all others stay, and the circuit stays."""

from itertools import combinations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

import linkkit as lk
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
