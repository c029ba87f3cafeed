"""What a student does in an open lesson: record a prediction, turn an input, change a length, answer a question."""

import nbformat
from axe_playwright_python.sync_playwright import Axe

RULES = {"runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]}
PLAYER = ".linkkit-player"


def cell_with(page, text):
    """The cell whose source holds `text`, brought into view: Lab renders only what is near the window."""
    number = next(n for n, cell in enumerate(page.cells()) if text in "".join(cell["source"]))
    page.page.evaluate(
        """async number => {
            const lesson = window.jupyterapp.shell.currentWidget.content;
            lesson.deselectAll();
            lesson.activeCellIndex = number;
            await lesson.scrollToItem(number, 'start');
        }""",
        number,
    )
    return page.page.locator(".jp-Notebook-cell.jp-mod-active")


def predict(page, text, answer):
    """Record a prediction in the cell with this text; the cell, with what the prediction unlocked."""
    cell = cell_with(page, text)
    button = cell.get_by_role("button", name="Record my prediction")
    button.wait_for()
    assert cell.locator(PLAYER).count() == 0, "something moves before the prediction"
    choice = cell.get_by_role("radio", name=answer, exact=True)
    if choice.count():
        choice.check()
    else:
        cell.get_by_role("textbox", name="I predict").fill(answer)
        cell.get_by_role("textbox", name="I predict").press("Tab")
    button.click()
    cell.get_by_text("You predicted:").wait_for()
    return cell


def turn(page, cell, *, key="ArrowRight", times=3):
    """Turn the input of the moving picture in a cell by keyboard; what its picture was, and what it became."""
    picture = cell.locator(f"{PLAYER} [data-part=picture]")
    picture.scroll_into_view_if_needed()
    seen = [page.markup(picture)]
    for _ in range(times):
        cell.locator(f"{PLAYER} [data-part=range]").press(key)
        seen.append(page.wait_for_change(picture, seen[-1]))
    return seen


def answer(page, key, text, *, says):
    """Answer the practice question with this key, and wait until the page says what it should."""
    cell = cell_with(page, f'key="{key}"')
    field = cell.get_by_role("textbox", name="My answer")
    field.fill(text)
    field.press("Tab")
    cell.get_by_role("button", name="Check my answer").press("Enter")
    cell.locator("[role=alert], [role=status]").filter(has_text=says).first.wait_for()


def export(page):
    """The lesson as it stands, with all that it shows, as the text of a static page."""
    from nbconvert import HTMLExporter

    cells = [{key: value for key, value in cell.items() if value is not None} for cell in page.cells()]
    book = nbformat.from_dict({"nbformat": 4, "nbformat_minor": 5, "metadata": {}, "cells": cells})
    return HTMLExporter().from_notebook_node(book)[0]


def violations(browser, html):
    """What axe-core has to say about the outputs on a page; the page round them is nbconvert's."""
    page = browser.new_page()
    page.route("http*://**", lambda route: route.abort())  # nbconvert's pages ask for scripts from other computers
    page.set_content(html)
    found = Axe().run(page, context={"include": [[".jp-OutputArea-output"]]}, options=RULES)
    page.close()
    return found


def live_violations(page):
    """What axe-core has to say about the live outputs of the active cell."""
    cell = ".jp-Notebook-cell.jp-mod-active .jp-OutputArea"
    return Axe().run(page.page, context={"include": [[cell]]}, options=RULES)


def clean(page):
    """Nothing was wrong on the page, and nothing was asked of another computer."""
    assert page.console_errors == []
    assert page.off_loopback == []
