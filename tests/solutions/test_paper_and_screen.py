"""Pages that can be read by everybody and printed, notebooks that compute the same, and commands that say what is wrong."""

import shutil

import pytest
from click.testing import CliRunner

from linkkit.cli import cli
from linkkit.coursework import find_assignment
from linkkit.solutions import pdf, write_solution
from linkkit.solutions.notebook import build

RULES = {"runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]}
NUMBERS = "[net-shaker]\nground_mm = 250\ncrank_mm = 60\ncoupler_mm = {}\nrocker_mm = 170\ncrank_angle_deg = 40\n"


def run(*words):
    """The command's exit code and what it said."""
    done = CliRunner().invoke(cli, ["solutions", *map(str, words)])
    return done.exit_code, " ".join(done.output.split())


@pytest.mark.needs_chromium
def test_axe_finds_nothing_and_nothing_is_wider_than_the_page(browser, tmp_path):
    from axe_playwright_python.sync_playwright import Axe

    page = browser.new_page(viewport={"width": 900, "height": 900})
    page.goto(write_solution(find_assignment("another-link-fixed"), "ab123", tmp_path / "page.html").as_uri())
    found = Axe().run(page, options=RULES)
    assert found.violations_count == 0, found.generate_report()
    assert len(found.response["passes"]) > 20
    wide = """[...document.querySelectorAll("math, svg, table")].filter(e =>
        e.getBoundingClientRect().right > document.querySelector("main").getBoundingClientRect().right + 1).length"""
    assert page.evaluate(wide) == 0
    page.close()


@pytest.mark.needs_chromium
def test_a_page_prints_as_a_tagged_pdf(tmp_path):
    made = pdf.print_page(write_solution(find_assignment("what-goes-in"), "ab123", tmp_path / "page.html"))
    content = made.read_bytes()
    assert content.startswith(b"%PDF-")
    assert b"/StructTreeRoot" in content  # headings and alternatives for readers who cannot see it
    assert b"/Lang" in content


def test_without_chromium_there_is_a_sentence(monkeypatch, tmp_path):
    monkeypatch.setattr(shutil, "which", lambda name: None)
    code, said = run("forces", "--student", "ab123", "--pdf", "--to", tmp_path)
    assert code == 1
    assert "printed by chromium, which is not installed here" in said
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("name", ["four-links", "position-by-algebra", "forces"])
def test_the_notebook_computes_answers_that_are_right(name):
    """Each answer's cell raises unless the marker says right."""
    space, paper = {}, find_assignment(name)
    cells = build(paper, "ab123").cells
    for cell in cells:
        if cell.cell_type == "code":
            exec(compile(cell.source, cell.id, "exec"), space)
    answers = [c for c in cells if c.id.endswith("-answer") and "marked(" in c.source]
    assert len(answers) == sum(not q.marked_by_hand for q in paper.questions)
    spoilt = next(c for c in answers if "swing" in c.source or "rod_force" in c.source or "newton_step" in c.source)
    with pytest.raises(ValueError, match="the marker says"):
        exec(spoilt.source.replace("student, ", "'somebody else', "), space)


def test_an_id_is_written_as_text_and_its_file_stays_in_the_folder(tmp_path):
    code, said = run("what-goes-in", "--student", "../<b>x", "--student", "ab123", "--to", tmp_path / "here")
    assert (code, "2 of 2 written" in said) == (0, True)
    assert sorted(p.name for p in (tmp_path / "here").iterdir()) == [
        "what-goes-in-%2E%2E%2F%3Cb%3Ex.html",
        "what-goes-in-ab123.html",
    ]
    assert "<b>x" not in (tmp_path / "here" / "what-goes-in-%2E%2E%2F%3Cb%3Ex.html").read_text()


def test_numbers_from_a_file_are_those_of_the_page(tmp_path):
    (tmp_path / "own.toml").write_text(NUMBERS.format(200))
    code, said = run("four-links", "--numbers", tmp_path / "own.toml", "--to", tmp_path)
    page = (tmp_path / "four-links-own.html").read_text()
    assert (code, "1 of 1 written" in said) == (0, True)
    assert "<td>200 mm</td>" in page
    assert "The lamp-turner" not in page  # no numbers for it in the file


@pytest.mark.parametrize(
    ("content", "says"),
    [
        ("[net-shake]\nx = 1", "[net-shake] is no machine of four-links; its machines are"),
        ("[net-shaker]\nground_mm = 250", "[net-shaker] needs exactly ground_mm, crank_mm"),
        (NUMBERS.format("'wide'"), "coupler_mm = 'wide' should be a finite number"),
        (NUMBERS.format("nan"), "coupler_mm = nan should be a finite number"),
        (NUMBERS.format(20), "make no machine that could be asked about"),
        ("", "there are no numbers in it"),
        ("[", "own.toml:"),
    ],
)
def test_numbers_that_cannot_be_used_are_refused(tmp_path, content, says):
    (tmp_path / "own.toml").write_text(content)
    code, said = run("four-links", "--numbers", tmp_path / "own.toml", "--to", tmp_path)
    assert code == 1
    assert says in said


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["four-links"], "say for whom"),
        (["four-links", "--all", "--student", "x"], "one of the three"),
        (["four-links", "--student", " "], "cannot be empty"),
        (["four-links", "--student", "x", "--release"], "add --feedback"),
        (["four-links", "--student", "x", "--feedback", "--notebook"], "feedback makes pages only"),
        (["four-link", "--student", "x"], "there is no assignment 'four-link'"),
        (["four-links", "--all", "--course", "/nowhere"], "is no nbgrader course"),
    ],
)
def test_wrong_use_is_answered_with_a_sentence(words, says):
    code, said = run(*words)
    assert code in (1, 2)
    assert says in said
