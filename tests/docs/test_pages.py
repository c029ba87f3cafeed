"""The pages for readers: their blocks run, their links lead somewhere, their figures are those of the machines."""

import re
import shutil

import pytest
from blocks import ROOT, blocks, run_page

import linkkit as lk
from linkkit.draw import line_diagram
from linkkit.workbook.findings import findings

DOCS = ROOT / "docs"
PAGES = [ROOT / "README.md", *sorted(DOCS.glob("*.md"))]
FOLLOWS = {"new-question.md": "lecturers.md"}  # a page that goes on where another one ends
SHORT = 2300  # words that are read in ten minutes, at 230 a minute (common practice, no source)


@pytest.fixture(scope="module")
def after(tmp_path_factory):
    """The folder as a page leaves it: a function of the page's name; each is run once."""
    done = {}

    def folder(name):
        if name not in done:
            done[name] = tmp_path_factory.mktemp(name.partition(".")[0]) / "folder"
            shutil.copytree(folder(FOLLOWS[name]), done[name]) if name in FOLLOWS else done[name].mkdir()
            run_page(ROOT / name if name == "README.md" else DOCS / name, done[name])
        return done[name]

    return folder


@pytest.mark.parametrize("page", [p.name for p in PAGES if blocks(p)])
def test_blocks_run(page, after):
    after(page)


def test_lecturers_page_leaves_what_it_says(after):
    folder = after("lecturers.md")
    there = {str(p.relative_to(folder)) for p in folder.rglob("*") if p.is_file()}
    assert {"sluice.svg", "sluice.ipynb", "source/sluice/sluice.py", "source/sluice/sluice.ipynb"} <= there
    assert "From sill to top (4 marks)" in (folder / "source/sluice/sluice.ipynb").read_text(encoding="utf-8")


def test_new_question_is_asked(after):
    assert "The lean of the rod (2 marks)" in (after("new-question.md") / "source/sluice/sluice.ipynb").read_text(
        encoding="utf-8"
    )


@pytest.mark.parametrize("page", PAGES, ids=lambda p: p.name)
def test_links_lead_somewhere(page):
    targets = re.findall(r"\]\(([^)#]+?)(?:#[^)]*)?\)", page.read_text(encoding="utf-8"))
    assert [t for t in targets if "://" not in t and not (page.parent / t).exists()] == []


@pytest.mark.parametrize("page", PAGES, ids=lambda p: p.name)
def test_page_reads_in_ten_minutes(page):
    assert len(page.read_text(encoding="utf-8").split()) <= SHORT


def section(name):
    """The part of the gallery under a machine's heading."""
    return (
        (DOCS / "gallery.md")
        .read_text(encoding="utf-8")
        .partition(f"## {lk.machine(name).name}\n")[2]
        .partition("\n## ")[0]
    )


@pytest.mark.parametrize("name", lk.machines())
def test_gallery_shows_the_machine_as_it_is(name):
    shown, linkage = section(name), lk.machine(name)
    assert f"(pictures/{name}.svg)" in shown
    assert linkage.about in shown
    assert f"| chains | {'; '.join(c.kind for c in lk.breakdown(linkage))} |" in shown
    for what, value in findings(linkage).rows:
        assert f"| {what} | {value} |" in shown


@pytest.mark.parametrize("name", lk.machines())
def test_picture_is_of_the_machine_as_it_is(name):
    """Its spoken description is the one that the machine has now."""
    picture = (DOCS / "pictures" / f"{name}.svg").read_text(encoding="utf-8")
    words = re.search(r"<desc[^>]*>(.*?)</desc>", picture, re.DOTALL)[1]
    places = re.findall(r"\b([A-Z]) at \((−?[\d ]+), (−?[\d ]+)\) mm", words)
    for point, x, y in places:
        drawn = complex(*(float(n.replace("−", "-").replace(" ", "")) for n in (x, y)))
        assert abs(drawn - 1000 * lk.machine(name).points[point]) < 1
    assert len(places) == len(lk.machine(name).points)
    assert len(picture) < 40_000
    assert 'role="img"' in line_diagram(lk.machine(name)).svg()
