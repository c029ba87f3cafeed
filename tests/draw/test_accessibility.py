"""axe finds nothing against WCAG 2.2 AA in any kind of picture that we write."""

import pytest

import linkkit as lk
from linkkit.draw import (
    animation,
    breakdown_picture,
    centres_picture,
    construction,
    free_body_picture,
    graph,
    line_diagram,
    polygon_picture,
    save_page,
)
from linkkit.workbook import my_record, still
from linkkit.workbook.findings import findings

RULES = {"runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]}


class Bare:
    """Something with HTML of its own, as a picture of a page."""

    def __init__(self, what, words):
        self.what, self.description = what, words

    def _repr_html_(self):
        return self.what._repr_html_()


def pictures():
    """One of each kind."""
    bar = lk.four_bar(0.4, 0.12, 0.35, 0.25).with_point("coupler", "P", 0.15, 0.1)
    motion = lk.move(bar, speed=10.0)
    forces = lk.forces(motion, masses={"coupler": 2.0})
    return (
        line_diagram(bar, paths=["P"], ranges=True, ghosts=4, dimensions=[("O", "A"), "crank"]),
        animation(bar, work_rpm=600),
        animation(lk.machine("hatch-closer")),
        construction(motion, 50),
        breakdown_picture(lk.machine("brine-lift")),
        free_body_picture(forces, "coupler", 50),
        centres_picture(motion, 50),
        polygon_picture(motion, 50),
        polygon_picture(motion, 50, kind="acceleration"),
        graph(motion, ("angle", "rocker"), ("speed", "P")),
        Bare(still(bar), "A still."),
        Bare(findings(bar), "Findings."),
        Bare(my_record("02"), "A record."),
    )


@pytest.mark.needs_chromium
def test_no_violation_on_a_page_with_every_kind_of_picture(browser, tmp_path):
    from axe_playwright_python.sync_playwright import Axe

    path = save_page(tmp_path / "all.html", "Every kind of picture", *pictures())
    page = browser.new_page()
    page.goto(path.as_uri())
    found = Axe().run(page, options=RULES)
    page.close()
    assert found.violations_count == 0, found.generate_report()
    assert len(found.response["passes"]) > 20
