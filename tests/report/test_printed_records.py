"""Records that print: a student's own, and the log of a marking; and feedback written from a course."""

from dataclasses import replace

import pytest
from click.testing import CliRunner
from courses import entry, record, small_course

from linkkit.cli import cli
from linkkit.coursework import find_assignment
from linkkit.marking.gradebook import Gradebook
from linkkit.marking.marks import lines
from linkkit.report.log import log_page
from linkkit.report.study import study_page
from linkkit.workbook.record import Record, _chosen, keep_in

NAME = "forces"
PAPER = find_assignment(NAME)
MANY = len(PAPER.questions)
RULES = {"runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]}


def run(*words):
    """The command's exit code and what it said."""
    done = CliRunner().invoke(cli, [*map(str, words)])
    return done.exit_code, " ".join(done.output.split())


@pytest.fixture
def mine(tmp_path):
    """A folder of records with a few entries; the chosen folder is put back afterwards."""
    before = dict(_chosen)
    keep_in(tmp_path / "my-work")
    Record("02").put("swing", question="How far does it <swing>?", answer=38.0, unit="°")
    Record("02").put("swing", question="How far does it <swing>?", answer=41.5, unit="°")
    Record("05").put("why", question="Why two chains?", answer="One feeds the other.")
    (tmp_path / "my-work" / "07.json").write_text("{spoilt")
    yield tmp_path / "my-work"
    _chosen.update(before)


@pytest.fixture(scope="module")
def marked(tmp_path_factory):
    """A course in which one script was marked twice, one once, and one could not be."""
    course = small_course(tmp_path_factory.mktemp("quay") / "course", NAME)
    first, other = (entry(PAPER, s, [False] * MANY) for s in ("ab123", "cd456"))
    better = entry(PAPER, "ab123", [True] + [False] * (MANY - 1), reason="question 1 was corrected")
    broken = replace(entry(PAPER, "ef789", [False] * MANY, fault="It is no notebook."), marks=None)
    record(course, NAME, [first, other, broken, better])
    return course


def test_a_record_of_study_has_every_answer_and_what_it_said_before(mine, tmp_path):
    code, said = run("record", "--from", mine, "--to", tmp_path / "paper" / "mine.html")
    page = (tmp_path / "paper" / "mine.html").read_text()
    assert (code, "Your record is in" in said) == (0, True), said
    assert page.index("41.5 °") < page.index("before, ") < page.index("38.0 °")
    assert "How far does it &lt;swing&gt;?" in page
    assert "Why two chains?" in page
    assert "It is kept as 07.unreadable-" in page  # the spoilt one is not lost


def test_where_nothing_was_recorded_there_is_a_sentence(tmp_path, mine):
    code, said = run("record", "--from", tmp_path / "elsewhere", "--to", tmp_path / "mine.html")
    assert (code, "nothing has been recorded in" in said) == (1, True)
    assert not (tmp_path / "mine.html").exists()


def test_a_log_says_of_each_mark_when_why_and_what_it_changed(marked, tmp_path):
    code, said = run("log", NAME, "--course", marked.place, "--to", tmp_path / "log.html")
    page = (tmp_path / "log.html").read_text()
    assert (code, "The log is in" in said) == (0, True), said
    assert "4 entries on 3 students" in page
    assert f"question 1 was corrected<br>rod_force: 0 to {PAPER.questions[0].marks:g}" in page
    assert "It is no notebook." in page
    only = CliRunner().invoke(
        cli, ["log", NAME, "--course", str(marked.place), "--student", "cd456", "--to", str(tmp_path / "x")]
    )
    assert only.exit_code == 0
    assert "1 entry on 1 student, only cd456" in (tmp_path / "x").read_text()
    one = (tmp_path / "x").read_text()
    assert "Question by question" in one
    assert "Question by question" not in page
    assert one.count(PAPER.questions[0].misconceptions[0].code) == 1  # by which code each answer was judged
    assert "nothing of nobody has been marked" in run("log", NAME, "--course", marked.place, "--student", "nobody")[1]


def test_feedback_from_a_course_keeps_the_answers_until_the_deadline(marked, tmp_path):
    words = ["solutions", NAME, "--feedback", "--course", marked.place, "--to", tmp_path]
    code, said = run(*words)
    assert (code, "3 pages of feedback, without what is right" in said) == (0, True), said
    page = (tmp_path / "forces-ab123 feedback.html").read_text()
    assert f"{PAPER.questions[0].marks:g} of {PAPER.marks:g} marks; 1 not marked yet" in page
    assert "Right for your numbers" not in page
    assert "It is no notebook." in (tmp_path / "forces-ef789 feedback.html").read_text()
    (marked.place / "late.toml").write_text("[forces]\ndue = 2001-03-05T12:00:00Z\n")
    assert "with what is right" in run(*words, "--student", "ab123")[1]
    assert "Right for your numbers" in (tmp_path / "forces-ab123 feedback.html").read_text()
    assert "without what is right" in run(*words, "--answers", "never")[1]
    code, said = run(*words, "--student", "nobody")
    assert (code, "not written: nobody: nothing of theirs has been marked" in said) == (1, True)


@pytest.mark.needs_chromium
def test_axe_finds_nothing_in_records(browser, tmp_path, mine, marked):
    from axe_playwright_python.sync_playwright import Axe

    with Gradebook(marked.db_url, NAME) as book:
        log = log_page(PAPER, book.entries("ab123"), lines(book))
    page = browser.new_page()
    for text in (study_page(mine), log):
        (tmp_path / "page.html").write_text(text)
        page.goto((tmp_path / "page.html").as_uri())
        found = Axe().run(page, options=RULES)
        assert found.violations_count == 0, found.generate_report()
    page.close()
