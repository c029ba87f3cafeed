"""Mobility by counting and by rank, and the exceptions explained."""

import pytest

import linkkit as lk
from linkkit import Linkage, Slide


def with_third_crank():
    bar = lk.four_bar(0.4, 0.1, 0.4, 0.1)
    a = bar.points["A"]
    points = bar.points | {"M": a + 0.2, "P": 0.2 + 0j}
    links = bar.links | {"coupler": ("A", "B", "M"), "ground": ("O", "Q", "P"), "third crank": ("P", "M")}
    return Linkage(points, links, "ground", inputs=bar.inputs)


def test_parallelogram_with_a_redundant_crank():
    free = lk.freedom(with_third_crank())
    assert (lk.mobility(with_third_crank()), free.true) == (0, 1)
    assert "special proportions" in free.note
    assert "0" in free.note
    assert "1" in free.note
    motion = lk.move(with_third_crank())
    assert motion.ok.all()


def test_the_same_crank_of_another_length_makes_a_structure():
    bar = with_third_crank()
    other = Linkage(bar.points | {"P": 0.22 - 0.03j}, bar.links, "ground", inputs=bar.inputs)
    assert lk.freedom(other).true == 0
    with pytest.raises(lk.LinkageError, match="is a structure, which cannot move"):
        lk.move(other)


def test_a_hanging_link_is_idle():
    bar = lk.four_bar(0.4, 0.1, 0.35, 0.25).with_point("coupler", "H", 0.1)
    hung = Linkage(bar.points | {"T": 0.1 - 0.2j}, bar.links | {"tag": ("H", "T")}, "ground", inputs=bar.inputs)
    free = lk.freedom(hung)
    assert (free.count, free.true, free.idle) == (2, 2, ("tag",))
    assert "tag can move by itself" in free.note
    assert [c.kind for c in lk.breakdown(hung)] == ["four-bar", "idle link"]
    assert lk.move(hung).ok.all()


def test_a_block_between_two_parallel_slides_is_idle():
    points = {"O": 0j, "A": 0.1 + 0j}
    slides = (Slide("lower", "block", "ground", 0j, 1 + 0j), Slide("upper", "top", "block", 0.1j, 1 + 0j))
    free = lk.freedom(Linkage(points, {"ground": ("O",), "block": (), "top": ("A",)}, "ground", slides))
    assert free.true == 2


def test_a_pin_through_three_links_counts_twice():
    press = lk.machine("fish-press")
    assert sum(pair.at == "B" for pair in press.pairs) == 2
    assert lk.mobility(press) == 3 * 5 - 2 * 7 == 1


@pytest.mark.parametrize(("size", "links"), [(3, 0), (5, 2)])
def test_rings_of_bars(size, links):
    """A ring of n bars has n - 3 freedoms, whatever its proportions (Kutzbach)."""
    import numpy as np

    spots = {f"P{n}": complex(np.exp(2j * np.pi * n / size + 0.1 * n)) for n in range(size)}
    ring = {f"bar {n}": (f"P{n}", f"P{(n + 1) % size}") for n in range(size)}
    linkage = Linkage(spots, ring, "bar 0")
    assert lk.mobility(linkage) == lk.freedom(linkage).true == size - 3 == links
