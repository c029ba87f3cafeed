"""Panels as a student meets them: sliders by keyboard, pictures that follow, predictions that last."""

import pytest

SETUP = """import linkkit as lk
from linkkit.draw import animation, line_diagram
from linkkit.workbook import explore, predict
bar = lk.four_bar(0.4, 0.12, 0.35, 0.25).with_point("coupler", "P", 0.15, 0.1)"""


@pytest.fixture
def panel(lab, open_notebook):
    """A notebook with one panel, run."""

    def opened(name, *cells):
        lab.add_notebook(name, SETUP, *cells)
        page = open_notebook(name)
        page.run_all()
        return page

    return opened


def picture(page):
    return page.page.locator(".linkkit-player [data-part=picture]").first


@pytest.mark.needs_chromium
def test_a_length_by_keyboard_changes_picture_and_facts(panel):
    page = panel("lengths.ipynb", 'explore(bar, [("O", "A")], points=["P"])')
    facts = page.output("transmission angle").locator("table").first
    seen, before = page.press("OA crank", "ArrowRight", times=5, watch=picture(page)), page.markup(facts)
    assert len(set(seen)) == 6
    page.press("OA crank", "ArrowRight", times=5, watch=picture(page))
    assert page.wait_for_change(facts, before)
    page.screenshot("panel-lengths")
    assert page.console_errors == []
    assert page.off_loopback == []


@pytest.mark.needs_chromium
def test_turning_the_input_needs_no_kernel(panel):
    page = panel("turning.ipynb", 'explore(bar, [("O", "A")])')
    page.page.evaluate("() => window.jupyterapp.shell.currentWidget.sessionContext.shutdown()")
    page.page.locator(".linkkit-player [data-part=range]").first.focus()
    seen = [page.markup(picture(page))]
    for _ in range(10):
        page.page.keyboard.press("ArrowRight")
        seen.append(page.wait_for_change(picture(page), seen[-1], limit=5))
    assert len(set(seen)) == 11


@pytest.mark.needs_chromium
def test_core_widgets_suffice(panel):
    page = panel("core.ipynb", 'explore(bar, [("O", "A")], fast=False)')
    image = page.page.locator(".jupyter-widgets svg[role=img]").first
    assert len(set(page.press("crank angle", "ArrowRight", times=5, watch=image))) == 6
    assert len(set(page.press("OA crank", "ArrowRight", times=3, watch=image))) == 4


@pytest.mark.needs_chromium
def test_an_error_in_a_callback_is_on_the_page(panel):
    page = panel(
        "error.ipynb",
        'panel = explore(bar, [("O", "A")], fast=False)\n'
        'def broken(*_):\n    raise RuntimeError("the picture broke")\n'
        "panel.picture.redraw = broken\npanel",
    )
    page.slider("OA crank").press("ArrowRight")
    page.page.get_by_role("alert").filter(has_text="RuntimeError: the picture broke").wait_for()


@pytest.mark.needs_chromium
def test_a_prediction_unlocks_the_motion_and_survives_a_restart(panel, lab):
    page = panel(
        "predict.ipynb",
        'predict("Does the rocker go right round?", ["yes", "no"], key="browser/round", then=lambda: animation(bar))',
    )
    assert page.page.locator(".linkkit-player").count() == 0
    page.page.get_by_role("radio", name="no").check()
    page.page.get_by_role("button", name="Record my prediction").click()
    page.page.locator(".linkkit-player").wait_for()
    assert (lab.notebooks / "my-work" / "browser.json").exists()
    page.page.get_by_role("button", name="Play").click()
    first = page.markup(picture(page))
    assert page.wait_for_change(picture(page), first, limit=5)

    page.page.evaluate("() => window.jupyterapp.shell.currentWidget.sessionContext.restartKernel()")
    page.wait_idle()
    page.run_all()
    page.page.get_by_text("You predicted: no. Now look.").wait_for()
    page.page.locator(".linkkit-player").wait_for()
    page.screenshot("panel-prediction")


@pytest.mark.needs_chromium
def test_an_answer_typed_while_the_kernel_is_busy_is_read_whole(panel):
    page = panel("typing.ipynb", 'panel = predict("How far does it swing?", unit="deg", key="browser/typed")\npanel')
    page.run_in_kernel("import time; time.sleep(2)")
    page.page.get_by_role("textbox", name="I predict").press_sequentially("123.45")
    page.page.get_by_role("button", name="Record my prediction").click()
    page.page.get_by_text("You predicted: 123.45").wait_for(timeout=10_000)
