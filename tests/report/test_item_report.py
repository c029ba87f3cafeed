"""The report of a cohort: first attempts in their latest marking, every figure with its n, a page and tables."""

import csv
import re
from dataclasses import replace

import numpy as np
import pytest
from click.testing import CliRunner
from courses import cohort, entry, record, small_course

from linkkit.cli import cli
from linkkit.coursework import find_assignment
from linkkit.report.attempts import first_attempts
from linkkit.report.page import figures, misconceptions, render, summary

NAME = "forces"
PAPER = find_assignment(NAME)
MANY = len(PAPER.questions)
RULES = {"runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]}


def run(*words):
    """The command's exit code and what it said."""
    done = CliRunner().invoke(cli, ["report", *map(str, words)])
    return done.exit_code, " ".join(done.output.split())


@pytest.fixture(scope="module")
def students():
    """Sixty scripts, and their attempts."""
    entries = list(cohort(PAPER, 60))
    return entries, first_attempts(PAPER, entries, {})


def test_only_the_first_script_counts_in_its_latest_marking():
    first = entry(PAPER, "ab123", [False] * MANY, script="a")
    again = entry(PAPER, "ab123", [True] + [False] * (MANY - 1), script="a", reason="the key was corrected")
    second = entry(PAPER, "ab123", [True] * MANY, script="b", hours=5)
    broken = entry(PAPER, "ab123", [False] * MANY, script="0", fault="It is no notebook.")
    found = first_attempts(PAPER, [broken, first, second, again], {})
    assert found.students == ("ab123",)
    assert found.several == 1
    assert np.nansum(found.marks) == PAPER.questions[0].marks


def test_who_has_no_script_that_can_be_marked_is_counted_apart():
    broken = entry(PAPER, "cd456", [False] * MANY, fault="It is no notebook.")
    found = first_attempts(PAPER, [broken, entry(PAPER, "ab123", [True] * MANY)], {})
    assert (found.students, found.left_out) == (("ab123",), 1)


def test_marks_by_hand_count_for_a_single_script_only():
    by_hand = {"why-a-flywheel-answer": 2.0}
    one = first_attempts(PAPER, [entry(PAPER, "x", [True] * MANY)], {"x": by_hand})
    two = first_attempts(PAPER, [entry(PAPER, "x", [True] * MANY, script=s) for s in "ab"], {"x": by_hand})
    place = PAPER.questions.index(PAPER.by_id["why_a_flywheel"])
    assert one.marks[0, place] == 2.0
    assert np.isnan(two.marks[0, place])


def test_figures_are_those_of_the_marks(students):
    entries, attempts = students
    rows = figures(PAPER, attempts)
    earned = [sum(e.verdicts[cell].marks for e in entries) for cell in list(entries[0].verdicts)[:3]]
    expected = [e / 60 / q.marks for e, q in zip(earned, PAPER.questions, strict=False)]
    assert [r["facility"].value for r in rows[:3]] == pytest.approx(expected)
    assert all(r["facility"].n == 60 and r["discrimination"].n == 60 for r in rows[:9])
    assert rows[9]["facility"].value is None  # for a tutor, and not marked yet
    assert summary(attempts)["of"] == PAPER.marks_by_machine


def test_each_misconception_is_counted(students):
    entries, attempts = students
    question = PAPER.questions[0]
    code = question.misconceptions[0].code
    expected = sum(next(iter(e.verdicts.values())).code == code for e in entries)
    row = next(r for r in misconceptions(PAPER, attempts) if r["question"] == question.id and r["code"] == code)
    assert (row["n"], row["of"], row["says"]) == (expected, 60, question.misconceptions[0].says)


def test_below_the_stated_n_there_is_no_value_and_no_reading():
    attempts = first_attempts(PAPER, list(cohort(PAPER, 9)), {})
    page = render(PAPER, attempts)
    assert "9 scripts, each student's first attempt" in page
    assert "no value (n = 9)" in page
    assert not re.search(r"tells good|hardly|nearly everybody", page)
    assert all(r["discrimination"].value is None and r["says"] == "" for r in figures(PAPER, attempts))


def test_the_command_writes_a_page_and_tables(tmp_path, students):
    entries, _ = students
    course = small_course(tmp_path / "course", NAME)
    evil = replace(entries[0], student="=1+1")
    record(course, NAME, [evil, *entries[1:12], *(replace(e, script_hash="b" * 64) for e in entries[1:4])])
    code, said = run(NAME, "--course", course.place, "--to", tmp_path / "out")
    assert (code, "The report on 12 scripts" in said) == (0, True), said
    page = (tmp_path / "out" / "forces-report.html").read_text()
    assert "3 students handed in more than one" in page
    assert "://" not in re.sub(r"http://www.w3.org/\S+?\"", "", page)
    with open(tmp_path / "out" / "forces-items.csv", newline="") as file:
        rows = list(csv.DictReader(file))
    assert [row["question"] for row in rows] == [q.id for q in PAPER.questions]
    assert all(row["facility n"] == "12" for row in rows[:9])
    assert sorted(p.name for p in (tmp_path / "out").iterdir()) == [
        "forces-days.csv", "forces-items.csv", "forces-report.html", "forces-verdicts.csv"]  # fmt: skip


def test_wrong_use_is_answered_with_a_sentence(tmp_path):
    assert "is no nbgrader course" in run(NAME, "--course", tmp_path)[1]
    course = small_course(tmp_path / "course", NAME)
    assert "there is no assignment 'force'" in run("force", "--course", course.place)[1]
    code, said = run(NAME, "--course", course.place, "--to", tmp_path / "out")
    assert (code, "has been marked in" in said) == (1, True)
    assert "does not know velocity" in run("velocity", "--course", course.place)[1]


@pytest.mark.needs_chromium
def test_axe_finds_nothing_in_a_report(browser, tmp_path, students):
    from axe_playwright_python.sync_playwright import Axe

    (tmp_path / "page.html").write_text(render(PAPER, students[1]))
    page = browser.new_page()
    page.goto((tmp_path / "page.html").as_uri())
    found = Axe().run(page, options=RULES)
    page.close()
    assert found.violations_count == 0, found.generate_report()
