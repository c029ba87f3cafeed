"""Panels of the design studio: a trade-off keeps its numbers, a sketched path is searched for and drawn over."""

import numpy as np
import pytest

import linkkit as lk
from linkkit.design.curves import build
from linkkit.errors import LinkageError
from linkkit.workbook import sketch_path, trade_off

BAR = lk.four_bar(0.28, 0.10, 0.25, 0.22).with_point("coupler", "P", 0.15, 0.06)
PATH = lk.move(BAR, np.radians(np.arange(0, 360, 36))).point("P")


def mm(path):
    return [(1000 * z.real, 1000 * z.imag) for z in path]


def test_a_trade_off_is_a_picture_with_words_and_a_table():
    shown = trade_off({"arm, mm": [1150, 848], "band, mm": [0.0081, 0.037], "size, mm": [1, 2]}, names=["90°", "120°"])
    assert shown.png.startswith(b"\x89PNG")
    assert shown.head == ("", "arm, mm", "band, mm", "size, mm")
    assert shown.rows == (("90°", "1150", "0.0081", "1"), ("120°", "848", "0.037", "2"))
    assert 'alt="2 designs. band, mm: 0.037 at arm, mm 848 and 0.0081 at arm, mm 1150."' in shown._repr_html_()
    assert "png" not in repr(shown)


@pytest.mark.parametrize("columns", [{}, {"one": [1, 2]}, {"one": [1, 2], "two": [1]}])
def test_columns_that_cannot_be_drawn_are_refused(columns):
    with pytest.raises(LinkageError, match="two columns or more, all of one length"):
        trade_off(columns)


def test_a_sketched_path_is_found_among_curves_of_the_index():
    index = build(3000)
    panel = sketch_path(mm(PATH), lambda places: index.find(places, keep=3, refine=False))
    assert panel.linkage is None
    panel.look.click()
    assert len(panel.choice.options) == 3
    traced = lk.move(panel.linkage, steps=720).point("P")
    missed = np.abs(traced[:, None] - panel.places).min(axis=0).max()
    assert missed < 0.1 * np.ptp(PATH.real), "the nearest of 3000 curves lies nowhere near the sketch"
    assert f"misses by at most {1000 * panel.designs[0].misses['path']:.3g} mm" in panel.choice.options[0]
    first = panel.image.value
    panel.choice.index = 2
    assert panel.image.value != first


def test_moving_a_point_forgets_what_was_found_and_is_drawn():
    panel = sketch_path(mm(PATH), lambda places: ())
    before = panel.image.value
    panel.rows[0][0].value += 10
    assert panel.image.value != before
    assert panel.places[0] == pytest.approx(round(1000 * PATH[0].real, 1) / 1000 + 0.01 + 1j * panel.places[0].imag)


def test_points_come_and_go_within_bounds_and_nothing_found_is_said():
    panel = sketch_path(mm(PATH[:6]), lambda places: ())
    panel.add.click()
    assert len(panel.places) == 7
    for _ in range(4):
        panel.less.click()
    assert len(panel.places) == 5
    assert "between 5 and 24 points" in panel.message.value
    panel.look.click()
    assert "Nothing like it was found" in panel.message.value


def test_what_goes_wrong_in_a_search_is_shown():
    def broken(_places):
        raise ZeroDivisionError("by nought")

    panel = sketch_path(mm(PATH), broken)
    panel.look.click()
    assert "ZeroDivisionError" in panel.message.value
