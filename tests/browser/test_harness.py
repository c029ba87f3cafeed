"""The browser harness itself: it sees a live picture change, and it sees a frozen one."""

import pytest

SLIDER = """
import ipywidgets as widgets
crank = widgets.FloatSlider(description="Crank", min=0, max=2, step=0.1, value=0.5)
picture = widgets.HTML()
"""
LIVE = """
def draw(change=None):
    end = 50 + 20 * crank.value
    line = f'<line x1="50" y1="50" x2="{end}" y2="50" stroke="black"/>'
    picture.value = f'<svg width="100" height="100">{line}</svg>'
draw()
"""
SHOW = "crank.observe(draw, 'value')\nwidgets.VBox([crank, picture])"
FROZEN = "crank.observe(lambda change: 1 / 0, 'value')\nwidgets.VBox([crank, picture])"


def test_a_key_press_changes_the_picture_itself(lab, open_notebook):
    lab.add_notebook("live.ipynb", SLIDER, LIVE, SHOW)
    page = open_notebook("live.ipynb")
    page.run_all()
    line = page.page.locator(".jp-OutputArea-output svg line")
    seen = page.press("Crank", "ArrowRight", times=2, watch=line)
    ends = [float(markup.split('x2="')[1].split('"')[0]) for markup in seen]
    assert ends == pytest.approx([60, 62, 64])  # 0.5, 0.6, 0.7 of 20 px beyond 50 px
    assert page.console_errors == []
    assert page.off_loopback == []
    assert page.screenshot("harness").stat().st_size > 10_000


def test_a_frozen_picture_is_noticed(lab, open_notebook):
    lab.add_notebook("frozen.ipynb", SLIDER, LIVE, FROZEN)
    page = open_notebook("frozen.ipynb")
    page.run_all()
    line = page.page.locator(".jp-OutputArea-output svg line")
    before = page.markup(line)
    page.slider("Crank").press("ArrowRight")
    with pytest.raises(AssertionError, match="no change"):
        page.wait_for_change(line, before, limit=2)


def test_a_failing_cell_fails_the_run(lab, open_notebook):
    lab.add_notebook("failing.ipynb", "1 / 0")
    page = open_notebook("failing.ipynb")
    with pytest.raises(AssertionError, match="ZeroDivisionError"):
        page.run_all()


def test_requests_off_loopback_are_listed(lab, open_notebook):
    lab.add_notebook("outside.ipynb", "from IPython.display import HTML\nHTML('<img src=\"http://192.0.2.1/a.png\">')")
    page = open_notebook("outside.ipynb")
    page.run_all()
    # 192.0.2.0/24 is kept for examples (RFC 5737); asked for once, or again when the page is drawn anew
    assert set(page.off_loopback) == {"http://192.0.2.1/a.png"}
