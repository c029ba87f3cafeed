"""A lecturer's way and a tutor's way from end to end, by the commands alone, on a machine that was new this morning."""

import contextlib
import json
import os
import re
from pathlib import Path

import pytest
from click.testing import CliRunner

from linkkit.cli import cli
from linkkit.coursework.own.finding import load
from linkkit.marking import stock
from linkkit.marking.rehearse_scripts import cast
from linkkit.marking.scripts import right
from linkkit.marking.stock import filled

DOCS = Path(__file__).parents[2] / "docs"
pytestmark = pytest.mark.needs_bubblewrap


def ready():
    """The machine file as the lecturers' page gives it."""
    return re.search(
        r"```toml\n# in sluice.toml\n(.*?)```", (DOCS / "lecturers.md").read_text(encoding="utf-8"), re.DOTALL
    )[1]


@pytest.fixture(scope="module")
def course(tmp_path_factory):
    """The folder in which everything happens."""
    folder = tmp_path_factory.mktemp("way")
    (folder / "sluice.toml").write_text(ready(), encoding="utf-8")
    return folder


@pytest.fixture(scope="module")
def run(course):
    """Run a command in the course; what it said. linkkit's own run in this process, nbgrader's as from a terminal."""
    before = os.environ.pop("LINKKIT_COURSE", None)

    def say(command):
        program, *words = command.split()
        with contextlib.chdir(course):
            done = CliRunner().invoke(cli, words) if program == "linkkit" else None
        if done is None:
            return stock.nbgrader(course, *words) or ""
        assert done.exit_code == 0, f"{command}\n{done.output}\n{done.exception!r}"
        return " ".join(done.output.split())

    yield say
    os.environ.pop("LINKKIT_COURSE", None)
    if before is not None:
        os.environ["LINKKIT_COURSE"] = before


@pytest.fixture(scope="module")
def released(course, run):
    """Described, made into a lesson, edited, released; three students have handed in."""
    assert "slider-crank" in run("linkkit describe sluice.toml")
    run("linkkit lesson sluice.toml")
    questions = course / "source" / "sluice" / "sluice.py"
    edited = questions.read_text(encoding="utf-8").replace("own.travel(MINE)", "own.travel(MINE, marks=5)")
    questions.write_text(edited, encoding="utf-8")
    run("linkkit lesson sluice.toml --renew")
    run("nbgrader generate_assignment sluice")
    paper = load(questions)
    _, _, *others = cast(paper).scripts
    spoilt = next(s for s in others if s.fault.startswith("its_travel"))
    for script in (right(paper, "anna1"), right(paper, "ben2"), spoilt):
        _hand_in(course, script)
    return paper, spoilt


def _hand_in(course, script):
    notebook = json.loads((course / "release" / "sluice" / "sluice.ipynb").read_text(encoding="utf-8"))
    place = course / "submitted" / script.student / "sluice" / "sluice.ipynb"
    place.parent.mkdir(parents=True)
    place.write_text(json.dumps(filled(notebook, script)), encoding="utf-8")
    place.with_name("timestamp.txt").write_text("2026-03-01 10:00:00.000000 UTC", encoding="utf-8")
    place.with_name("submission_secret.txt").write_text(f"secret of {script.student}", encoding="utf-8")


def test_edited_assignment_rehearses(released, run):
    said = run("linkkit rehearse --course . --assignment sluice --ids 4")
    assert "4 of 4 agree" in said
    assert "its_travel │ 5" in said


@pytest.fixture(scope="module")
def marked(released, run):
    assert "3 marked now" in run("linkkit mark sluice")
    return released


def marks(course, run, to):
    """Every student's marks, from the export."""
    run(f"linkkit export sluice --to {to}")
    (table,) = (
        (course / to).glob("*marks*.csv")
        if list((course / to).glob("*marks*.csv"))
        else [next((course / to).glob("*.csv"))]
    )
    return table.read_text(encoding="utf-8")


def test_marks_are_those_deserved(marked, course, run):
    paper, spoilt = marked
    table = marks(course, run, "first")
    assert len(re.findall(rf"\b{paper.marks:g}\b", table)) >= 2
    line = next(line for line in table.splitlines() if spoilt.student in line)
    assert f"{spoilt.expected:g}" in line


def test_long_feedback_takes_the_place_of_the_short(marked, course, run):
    """One page a student: what marking wrote, until the deadline is over and the answers may be told."""
    _, spoilt = marked
    page = course / "feedback" / spoilt.student / "sluice" / "sluice.html"
    assert "Right for your numbers" not in page.read_text(encoding="utf-8")
    assert "3 pages of feedback, with what is right" in run(
        "linkkit solutions sluice --feedback --answers now --release"
    )
    assert "Right for your numbers" in page.read_text(encoding="utf-8")
    assert page.read_text(encoding="utf-8").endswith("</html>")  # whole, as marking looks for it


def test_feedback_can_be_released_through_an_exchange(marked, course, run):
    """nbgrader's own command finds beside each page what it needs, and a page in the exchange for each student."""
    (course / "exchange").mkdir()
    config = course / "nbgrader_config.py"
    config.write_text(
        config.read_text(encoding="utf-8") + f'c.Exchange.root = "{course / "exchange"}"\n', encoding="utf-8"
    )
    (course / "exchange").chmod(0o777)
    run("nbgrader release_feedback sluice")
    assert len(list((course / "exchange" / "own-machines" / "feedback").glob("*.html"))) == 3


def test_correction_is_marked_again_and_logged(marked, course, run):
    """The lecturer finds half the swing worth four of five marks; everybody is marked again, and the log says why."""
    paper, spoilt = marked
    questions = course / "source" / "sluice" / "sluice.py"
    text = questions.read_text(encoding="utf-8")
    code = spoilt.fault.removeprefix("its_travel: ")
    more = (
        "\nfrom dataclasses import replace\n\nKINDER = {q.id: q for q in QUESTIONS}['its_travel']\n"
        f"KINDER = replace(KINDER, version=2, misconceptions=tuple(replace(m, share=0.8) if m.code == {code!r} else m "
        "for m in KINDER.misconceptions))\n"
        "QUESTIONS = tuple(KINDER if q.id == KINDER.id else q for q in QUESTIONS)\n"
    )
    questions.write_text(text + more, encoding="utf-8")
    said = run("linkkit remark sluice --reason kinder --yes")
    assert spoilt.student in said
    assert "1 marks would change" in said
    line = next(line for line in marks(course, run, "second").splitlines() if spoilt.student in line)
    assert f"{paper.marks - 1:g}" in line
    assert "kinder" in run("linkkit log sluice --to log") + _pages(course / "log")


def _pages(place):
    files = [place] if place.is_file() else sorted(place.rglob("*")) if place.is_dir() else []
    return " ".join(f.read_text(encoding="utf-8", errors="replace") for f in files if f.is_file())


def test_worked_solution_for_one_student(marked, course, run):
    """The tutor prints the solution for one student's numbers: the page has them, and the answers of the marker."""
    paper, _ = marked
    run("linkkit solutions sluice --student anna1 --to worked")
    page = _pages(course / "worked")
    numbers = paper.givens("sluice-mine", "anna1")
    for label, value, _ in numbers.rows():
        assert label in page
        assert value in page
    question = paper.by_id["its_transmission"]
    assert question.kind.show(question.right(numbers)).split()[0] in page


def test_report_is_written(marked, course, run):
    run("linkkit report sluice --to report")
    assert "its_travel" in _pages(course / "report") or "From limit to limit" in _pages(course / "report")
