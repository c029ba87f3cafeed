"""The first lessons as a student meets them: run, predict, see it move; change lengths by keyboard; practise."""

from math import pi

import pytest

from lessons import PLAYER, answer, cell_with, clean, predict, turn
from linkkit.coursework.shelf import find, numbers

OPENED = {
    # notebook: its first moving picture (key and a prediction)
    "00 Start here": ("00/tray", "it swings to and fro once"),
    "01 What goes in, what comes out": ("01/hanger", "combined motion"),
    "02 Four links in a loop": ("02/round", "it swings to and fro"),
}


@pytest.fixture
def lesson(open_notebook):
    """A lesson, opened and run."""

    def opened(name):
        page = open_notebook(f"{name}.ipynb")
        page.run_all()
        return page

    return opened


@pytest.mark.parametrize("name", OPENED)
def test_lesson_runs_and_moves_after_the_prediction(lesson, name):
    page = lesson(name)
    cell = predict(page, *OPENED[name])
    assert len(set(turn(page, cell))) == 4
    page.screenshot(f"lesson-{name[:2]}")
    clean(page)


def test_in_lesson_2_a_length_changes_picture_class_and_limits(lesson):
    page = lesson("02 Four links in a loop")
    cell = predict(page, "02/longer", "from some length on it cannot go right round any more")
    picture, facts = cell.locator(f"{PLAYER} [data-part=picture]"), cell.locator("table").last
    before = facts.inner_text()
    assert "crank-rocker" in before
    seen = page.press("OA crank", "ArrowRight", times=4, watch=picture)
    assert len(set(seen)) == 5
    facts.get_by_text("crank-rocker").wait_for()
    page.wait_for_change(facts, before)
    cell.get_by_role("spinbutton", name="length OA").fill("214")
    cell.get_by_role("spinbutton", name="length OA").press("Enter")
    facts.get_by_text("triple-rocker").wait_for()
    assert "right round" not in facts.inner_text()
    page.screenshot("lesson-02-change")
    clean(page)


def test_in_lesson_2_the_drawing_goes_on_stage_by_stage(lesson):
    page = lesson("02 Four links in a loop")
    cell = cell_with(page, "step(construction")
    drawing = cell.locator("svg[role=img]").first
    seen = [page.markup(drawing)]
    for _ in range(3):
        cell.get_by_role("button", name="Next stage").press("Enter")
        seen.append(page.wait_for_change(drawing, seen[-1]))
    assert len(set(seen)) == 4
    assert "B′" in seen[-1]
    clean(page)


def test_in_lesson_0_an_answer_is_explained_and_corrected(lesson):
    page = lesson("00 Start here")
    turned = numbers(find("in_radians"), 1).turned_deg
    answer(page, "00/radians", f"{turned * 180 / pi:.6g}", says="The factor is upside down")
    answer(page, "00/radians", f"{turned * pi / 180:.4g}", says="Right.")
    page.screenshot("lesson-00-practice")
    clean(page)
