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
INPUT_MS, RATIO = 16.0, 1.25  # what a student is promised: a frame of 60 Hz; little more than a slider costs anyhow
SLACK = 1.5  # for a machine that others use too, and frames that come 16.7 ms apart
# From the moment of the key press to the end of the first frame painted after a watched node has changed; only one
# is awaited at a time.
WATCH = """(selectors) => {
    window.lapses = Object.fromEntries(selectors.map((selector) => [selector, []]));
    let pressed = null;
    document.addEventListener("keydown", (event) => { pressed = event.timeStamp; }, true);
    const painted = new MessageChannel();  // its message comes after the frame that it was posted in
    let began = null, shown = null;
    painted.port1.onmessage = () => window.lapses[shown].push(performance.now() - began);
    for (const selector of selectors) {
        new MutationObserver(() => {
            if (pressed === null || window.awaited !== selector) return;
            [began, shown, pressed] = [pressed, selector, null];
            requestAnimationFrame(() => painted.port2.postMessage(null));
        }).observe(document.querySelector(selector),
            { subtree: true, childList: true, characterData: true, attributes: true });
    }
}"""


def lapses(page, focused):
    """Milliseconds for many presses of a key, in turn on each of several things: {selector watched: what to focus}.

    In turn, so that whatever else the computer does falls on all of them alike.
    """
    page.page.evaluate(WATCH, list(focused))
    for k in range(PRESSES):
        for selector, focus in focused.items():
            focus()
            page.page.evaluate("(selector) => { window.awaited = selector; }", selector)
            page.page.keyboard.press("ArrowRight")
            page.page.wait_for_function(f"(s) => window.lapses[s].length > {k}", arg=selector, timeout=10000)
            page.page.wait_for_timeout(250)  # what was put off until the slider rests is done by then
    return {s: np.array(took) for s, took in page.page.evaluate("() => window.lapses").items()}


def pixels(locator):
    return hashlib.sha256(locator.screenshot()).hexdigest()


@pytest.mark.speed
@pytest.mark.needs_chromium
def test_turning_the_input_takes_a_frame(lab, open_notebook):
    lab.add_notebook("latency-input.ipynb", CELLS[0], CELLS[2])
    page = open_notebook("latency-input.ipynb")
    page.run_all()
    picture = page.page.locator(".linkkit-player [data-part=picture]").first
    before = pixels(picture)
    watched = ".linkkit-player [data-part=picture]"
    took = lapses(page, {watched: page.page.locator(".linkkit-player [data-part=range]").first.focus})[watched]
    assert pixels(picture) != before
    print(f"key to picture, input: median {np.median(took):.1f} ms, 95 % {np.percentile(took, 95):.1f} ms")
    assert np.percentile(took, 95) < SLACK * INPUT_MS


@pytest.mark.speed
@pytest.mark.needs_chromium
def test_a_length_costs_little_more_than_a_bare_slider(lab, open_notebook):
    import linkkit as lk
    from linkkit.draw import line_diagram

    size = len(line_diagram(lk.machine("crate-hoist")).svg())
    lab.add_notebook("latency-length.ipynb", CELLS[0], CELLS[1].format(size=size), CELLS[2])
    page = open_notebook("latency-length.ipynb")
    page.run_all()
    watched = (".widget-html-content", ".linkkit-player [data-part=picture]")
    took = lapses(page, {watched[0]: lambda: page.slider("bare"), watched[1]: lambda: page.slider("OA crank")})
    bare, ours = (took[selector] for selector in watched)
    ratio = np.median(ours) / np.median(bare)
    print(f"key to picture, length: bare {np.median(bare):.1f} ms, ours {np.median(ours):.1f} ms, ratio {ratio:.2f}")
    assert ratio < SLACK * RATIO
