"""How long from a key to the changed picture, in one run; alone on the machine: `pytest -m speed`."""

import hashlib

import numpy as np
import pytest

PRESSES = 40
CELLS = (
    "import ipywidgets as widgets\nimport linkkit as lk\nfrom linkkit.workbook import explore",
    """bare = widgets.FloatSlider(description="bare", min=0, max=100, step=0.5)
box = widgets.HTML()
text = "<p class='constant'>" + "x" * {size} + "{{:06.2f}}</p>"
bare.observe(lambda change: setattr(box, "value", text.format(change["new"])), "value")
box.value = text.format(0)
widgets.VBox([bare, box])""",
    'explore(lk.machine("crate-hoist"), [("O", "A")])',
)
# From the page's own keydown to the first frame after the watched node has changed.
WATCH = """(selector) => {
    window.lapses = [];
    let pressed = null;
    document.addEventListener("keydown", () => { pressed = performance.now(); }, true);
    new MutationObserver(() => {
        if (pressed === null) return;
        const began = pressed;
        pressed = null;
        requestAnimationFrame(() => window.lapses.push(performance.now() - began));
    }).observe(document.querySelector(selector),
        { subtree: true, childList: true, characterData: true, attributes: true });
}"""


def lapses(page, selector, key="ArrowRight"):
    """Milliseconds for each of many presses of a key on whatever has the focus."""
    page.page.evaluate(WATCH, selector)
    for k in range(PRESSES):
        page.page.keyboard.press(key)
        page.page.wait_for_function(f"() => window.lapses.length > {k}", timeout=10000)
        page.page.wait_for_timeout(60)
    return np.array(page.page.evaluate("() => window.lapses"))


def pixels(locator):
    return hashlib.sha256(locator.screenshot()).hexdigest()


@pytest.mark.speed
@pytest.mark.needs_chromium
def test_turning_the_input_takes_a_frame(lab, open_notebook):
    lab.add_notebook("latency-input.ipynb", CELLS[0], CELLS[2])
    page = open_notebook("latency-input.ipynb")
    page.run_all()
    picture = page.page.locator(".linkkit-player [data-part=picture]").first
    page.page.locator(".linkkit-player [data-part=range]").first.focus()
    before = pixels(picture)
    took = lapses(page, ".linkkit-player [data-part=picture]")
    assert pixels(picture) != before
    print(f"key to picture, input: median {np.median(took):.1f} ms, 95 % {np.percentile(took, 95):.1f} ms")
    assert np.percentile(took, 95) < 17.0, "a frame of 60 Hz"


@pytest.mark.speed
@pytest.mark.needs_chromium
def test_a_length_costs_little_more_than_a_bare_slider(lab, open_notebook):
    import linkkit as lk
    from linkkit.draw import line_diagram

    size = len(line_diagram(lk.machine("crate-hoist")).svg())
    lab.add_notebook("latency-length.ipynb", CELLS[0], CELLS[1].format(size=size), CELLS[2])
    page = open_notebook("latency-length.ipynb")
    page.run_all()
    page.slider("bare")
    bare = lapses(page, ".widget-html-content")
    page.slider("OA crank")
    ours = lapses(page, ".linkkit-player [data-part=picture]")
    ratio = np.median(ours) / np.median(bare)
    print(f"key to picture, length: bare {np.median(bare):.1f} ms, ours {np.median(ours):.1f} ms, ratio {ratio:.2f}")
    assert ratio < 1.25
