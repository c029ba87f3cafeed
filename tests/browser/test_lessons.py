"""Every lesson as a student meets it: run, predict, turn the input, change a length, step a drawing, practise."""

from math import pi

import pytest

from lessons import PLAYER, answer, cell_with, clean, export, live_violations, predict, turn, violations
from linkkit.coursework.shelf import find, numbers

# lesson: (text of the cell with its main panel, the prediction that unlocks it, its main slider besides the input)
LESSONS = {
    "00 Start here": ('key="00/longer"', "grows", "OA crank"),
    "01 What goes in, what comes out": ('key="01/hanger"', "combined motion", None),
    "02 Four links in a loop": ('key="02/longer"', "it always goes right round", "OA crank"),
    "03 Crank and slider": ('key="03/quicker"', "lengthen the crank", "OA crank"),
    "04 Changing the fixed link": ('key="04/shorter"', "200", "AB coupler"),
    "05 Chains in series": ('key="05/arm"', "lengthened", "OA crank"),
    "06 Position by algebra": ('key="06/rocker"', "120", "QB"),
    "07 Paths of points": ('key="07/matters"', "the rocker QB", "QB"),
    "08 Velocity": ('key="08/longer"', "falls", "OA crank"),
    "09 Acceleration": ('key="09/rod"', "a tenth", "AB rod"),
    "10 Forces at running speed": ('key="10/rod-length"', "not at all", "AB rod"),
    "11 Choosing the dimensions": ('key="11/round"', "about one degree", "OA crank"),
    "12 Design studio": ('key="12/by-hand"', "0.2", "TF tray"),
}


@pytest.fixture(scope="module", params=LESSONS)
def lesson(lab, request):
    """A lesson, opened and run: its name and its page, for all tests on it."""
    lab.forget()
    page = lab.open_notebook(f"{request.param}.ipynb")
    page.run_all()
    yield request.param, page
    page.close()


def only(name):
    """For a test of one lesson."""
    return pytest.mark.parametrize("lesson", [name], indirect=True)


def test_the_picture_follows_the_keys(lesson):
    name, page = lesson
    text, prediction, length = LESSONS[name]
    cell = predict(page, text, prediction) if prediction else cell_with(page, text)
    assert len(set(turn(page, cell))) == 4
    if length:
        cell.get_by_role("slider", name=length).wait_for()
        picture = cell.locator(f"{PLAYER} [data-part=picture]")
        assert len(set(page.press(length, "ArrowRight", times=3, watch=picture, within=cell))) == 4
    found = live_violations(page)
    assert found.violations_count == 0, found.generate_report()
    page.screenshot(f"lesson-{name[:2]}")
    clean(page)


@only("00 Start here")
def test_an_answer_is_explained_and_corrected(lesson):
    _, page = lesson
    turned = numbers(find("in_radians"), 1).turned_deg
    answer(page, "00/radians", f"{turned * 180 / pi:.6g}", says="The factor is upside down")
    answer(page, "00/radians", f"{turned * pi / 180:.4g}", says="Right.")
    page.screenshot("lesson-00-practice")
    clean(page)


@only("02 Four links in a loop")
def test_the_drawing_goes_on_stage_by_stage(lesson):
    _, page = lesson
    cell = cell_with(page, "step(construction")
    drawing = cell.locator("svg[role=img]").first
    seen = [page.markup(drawing)]
    for _ in range(3):
        cell.get_by_role("button", name="Next stage").press("Enter")
        seen.append(page.wait_for_change(drawing, seen[-1]))
    assert len(set(seen)) == 4
    assert "B′" in seen[-1]
    clean(page)


@only("02 Four links in a loop")
def test_a_length_changes_class_and_limits(lesson):
    _, page = lesson
    cell = cell_with(page, 'key="02/longer"')
    if not cell.locator(PLAYER).count():
        cell = predict(page, 'key="02/longer"', "it always goes right round")
    facts, length = cell.locator("table").last, cell.get_by_role("spinbutton", name="length OA")
    for size_mm, kind in (("120", "crank-rocker"), ("214", "triple-rocker")):
        length.fill(size_mm)
        length.press("Enter")
        facts.get_by_text(kind).wait_for()
    assert "right round" not in facts.inner_text()
    page.screenshot("lesson-02-change")
    clean(page)


def test_axe_finds_nothing_in_the_exported_lesson(lesson, browser):
    _, page = lesson
    found = violations(browser, export(page))
    assert found.violations_count == 0, found.generate_report()
    assert len(found.response["passes"]) > 5
