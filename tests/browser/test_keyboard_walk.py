"""One whole lesson with the keyboard alone: from opening it to the practice question and the student's own record."""

from math import pi

import pytest

from lessons import PLAYER, clean
from linkkit.coursework.shelf import find, numbers

LESSON = "00 Start here.ipynb"
STUCK = 20_000  # milliseconds for the step to the next cell
FAR = 40  # presses of Tab to something in a cell: more, and nobody would find it


class Walker:
    """Hands on the keyboard: nothing here clicks, scrolls or focuses by itself.

    Attributes
    ----------
    pressed : dict
        How often each key was pressed.
    """

    def __init__(self, page):
        self.page, self.pressed = page, {}

    def press(self, key, times=1):
        for _ in range(times):
            self.pressed[key] = self.pressed.get(key, 0) + 1
            self.page.page.keyboard.press(key)

    def type(self, text):
        self.page.page.keyboard.type(text)

    @property
    def focus(self):
        """What has the focus, as a locator."""
        return self.page.page.locator(":focus")

    def run_on(self, text):
        """Run cells one after the other until the one that holds `text` has run, then step back on to it."""
        number = next(k for k, cell in enumerate(self.page.cells()) if text in "".join(cell["source"]))
        while self.active <= number:
            before = self.active
            self.press("Shift+Enter")
            self.page.page.wait_for_function(f"before => {ACTIVE} !== before", arg=before, timeout=STUCK)
        self.page.wait_idle()
        self.press("ArrowUp")
        assert self.active == number, "the arrow does not lead back to the cell that was run"
        return self.page.page.locator(".jp-Notebook-cell.jp-mod-active")

    @property
    def active(self):
        return self.page.page.evaluate(f"() => {ACTIVE}")

    def tab_to(self, target):
        """Press Tab until the target has the focus."""
        target.wait_for()
        for _ in range(FAR):
            if target.evaluate("node => node === document.activeElement"):
                return target
            self.press("Tab")
        raise AssertionError(f"Tab does not lead to {target}")


ACTIVE = "window.jupyterapp.shell.currentWidget.content.activeCellIndex"


@pytest.mark.needs_chromium
def test_a_whole_lesson_by_keyboard(lab, open_notebook):
    lab.forget()
    page = open_notebook(LESSON)
    walker = Walker(page)
    answer_in_radians(walker)
    predict_and_see(walker)
    predict_and_change(walker)
    explain_and_read_the_record(walker)
    assert set(walker.pressed) == {"Tab", "Enter", "Shift+Enter", "Space", "ArrowUp", "ArrowRight"}
    page.screenshot("keyboard-walk")
    clean(page)


def answer_in_radians(walker):
    """The practice question: a wrong answer is explained, a right one praised."""
    cell = walker.run_on('key="00/radians"')
    turned = numbers(find("in_radians"), 1).turned_deg
    walker.tab_to(cell.get_by_role("textbox", name="My answer"))
    walker.type(f"{turned * pi / 180:.4g}")
    walker.tab_to(cell.get_by_role("button", name="Check my answer"))
    walker.press("Enter")
    cell.get_by_text("Right.").first.wait_for()


def predict_and_see(walker):
    """A choice, the button, and then the picture turned by arrows, played, paused and stepped."""
    cell = walker.run_on('key="00/tray"')
    walker.tab_to(cell.get_by_role("radio", name="it swings to and fro once"))
    walker.press("Space")
    walker.tab_to(cell.get_by_role("button", name="Record my prediction"))
    walker.press("Enter")
    picture = cell.locator(f"{PLAYER} [data-part=picture]")
    picture.wait_for()
    seen = [walker.page.markup(picture)]
    walker.tab_to(cell.locator(f"{PLAYER} [data-part=range]"))
    for _ in range(3):
        walker.press("ArrowRight")
        seen.append(walker.page.wait_for_change(picture, seen[-1]))
    for name in ("Play", "Step on"):
        walker.tab_to(cell.get_by_role("button", name=name))
        walker.press("Enter")
        seen.append(walker.page.wait_for_change(picture, seen[-1]))
    assert cell.get_by_role("button", name="Play").is_visible(), "a step does not end the motion"


def predict_and_change(walker):
    """A length by its slider and by its number box; the facts follow."""
    cell = walker.run_on('key="00/longer"')
    walker.tab_to(cell.get_by_role("radio", name="grows"))
    walker.press("Space")
    walker.tab_to(cell.get_by_role("button", name="Record my prediction"))
    walker.press("Enter")
    picture = cell.locator(f"{PLAYER} [data-part=picture]")
    picture.wait_for()
    before = walker.page.markup(picture)
    walker.tab_to(cell.get_by_role("slider", name="OA crank"))
    walker.press("ArrowRight")
    walker.page.wait_for_change(picture, before)


def explain_and_read_the_record(walker):
    """Words of one's own, and what was kept of the lesson."""
    cell = walker.run_on('key="00/why-swing"')
    walker.tab_to(cell.get_by_role("textbox", name="In my words"))
    walker.type("The tray is too short to let the coupler pass.")
    walker.press("Tab")
    walker.tab_to(cell.get_by_role("button", name="Keep my words"))
    walker.press("Enter")
    cell.get_by_text("Kept in").wait_for()
    record = walker.run_on('my_record("00")')
    record.get_by_text("too short to let the coupler pass").first.wait_for()
    record.get_by_text("it swings to and fro once").first.wait_for()
