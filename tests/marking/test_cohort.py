"""A cohort marked by `linkkit mark` in an nbgrader course, and what nbgrader's own commands make of it."""

import json
import os
import shutil
import sqlite3
import zipfile
from dataclasses import replace

import pytest
from click.testing import CliRunner
from cohorts import filled_in, right_cells

from linkkit.cli import cli
from linkkit.coursework import find_assignment
from linkkit.marking import handed_in, stock
from linkkit.marking.course import Course
from linkkit.marking.gradebook import Gradebook
from linkkit.marking.marks import lines
from linkkit.marking.run import task_of
from linkkit.marking.scripts import invented

pytestmark = pytest.mark.needs_bubblewrap
NAME = "four-links"
STUDENTS = 8


def linkkit(course, command, *words, code=0):
    done = CliRunner().invoke(cli, [command, NAME, "--course", str(course), *words])
    assert done.exit_code == code, done.output + repr(done.exception)
    return done.output


@pytest.fixture(scope="module")
def marked_course(empty_course, tmp_path_factory):
    """A course with a small cohort of known worth, marked; the marks that it should have."""
    course = empty_course(tmp_path_factory.mktemp("marked"))
    scripts = list(invented(find_assignment(NAME), STUDENTS))
    stock.hand_in(course, NAME, scripts)
    broken = course / "submitted" / "torn" / NAME / f"{NAME}.ipynb"
    broken.parent.mkdir(parents=True)
    broken.write_text('{"cells": [')
    for name in (b"turns\x1b[2J\n", b"\xff\xfe"):  # no ids: signs that steer a terminal, bytes that are no text
        shutil.copytree(broken.parents[1], course / "submitted" / os.fsdecode(name))
    (broken.parent / "timestamp.txt").write_text("9999-12-31T23:59:59-23:59")
    with Gradebook(Course.open(course).db_url, NAME) as book:
        book._book.add_student("absent")
    said = linkkit(course, "mark", "--workers", "2")
    return course, {script.student: script.expected for script in scripts}, said


@pytest.fixture
def course(marked_course, copy_course):
    """A copy of the marked course, to be spoilt."""
    return copy_course(marked_course[0])


def marks_in(course):
    return stock.marks(course, NAME)


def test_marks_are_those_expected(marked_course):
    course, expected, _ = marked_course
    given = marks_in(course)
    assert {student: given[student] for student in expected} == pytest.approx(expected)


def test_report_names_every_id(marked_course):
    said = " ".join(marked_course[2].split())
    assert f"{STUDENTS} marked now, 0 as before, 3 not marked, 1 not submitted" in said
    assert said.count("is no id") == 2
    assert "\x1b" not in said
    assert "torn" in said
    assert "damaged" in said
    assert "absent" in said


def test_second_run_marks_nothing_twice(course, marked_course):
    before = _history(course)
    assert f"0 marked now, {STUDENTS + 1} as before" in " ".join(linkkit(course, "mark").split())
    assert _history(course) == before


def test_changed_script_is_marked_again(course):
    place = course / "submitted" / "quay0002" / NAME / f"{NAME}.ipynb"
    place.write_bytes(filled_in(right_cells(), "quay0002"))
    assert "1 marked now" in linkkit(course, "mark", "--workers", "1")
    assert marks_in(course)["quay0002"] == find_assignment(NAME).marks
    assert [e.reason for e in _book(course, lambda book: book.entries("quay0002"))] == ["first marking"] * 2


def test_nbgrader_writes_feedback_and_exports_from_it(course):
    stock.nbgrader(course, "generate_feedback", NAME, "--force")
    page = (course / "feedback" / "quay0001" / NAME / f"{NAME}.html").read_text()
    assert "Right." in page
    stock.nbgrader(course, "export")
    rows = (course / "grades.csv").read_text().splitlines()
    assert any(",quay0001," in row and ",38.0," in row for row in rows)


def test_nbgrader_autograde_gives_the_same_marks(course):
    before = marks_in(course)
    stock.nbgrader(course, "autograde", NAME, "--student", "quay000[124]", "--force")
    assert marks_in(course) == pytest.approx(before)
    shown = (course / "autograded" / "quay0004" / NAME / f"{NAME}.ipynb").read_text()
    assert "execute_result" in shown, "it was marked anew: linkkit writes no such output"


def test_own_page_shows_no_test_and_escapes(marked_course):
    page = (marked_course[0] / "feedback" / "quay0001" / NAME / f"{NAME}.html").read_text()
    assert "paper.mark" not in page
    assert "Content-Security-Policy" in page


def test_marks_and_comments_by_hand_survive(course):
    def by_hand(book):
        grade = book._book.find_grade("stroke-is-right", NAME, NAME, "quay0002")
        comment = book._book.find_comment("stroke-answer", NAME, NAME, "quay0002")
        grade.manual_score, comment.manual_comment = 1.5, "Well drawn."
        book._book.db.commit()

    _book(course, by_hand)
    linkkit(course, "mark", "--student", "quay0002", "--again", "to see what stays")
    grade, comment = _book(course, lambda book: (
        book._book.find_grade("stroke-is-right", NAME, NAME, "quay0002").score,
        book._book.find_comment("stroke-answer", NAME, NAME, "quay0002").comment))  # fmt: skip
    assert (grade, comment) == (1.5, "Well drawn.")
    assert [e.reason for e in _book(course, lambda book: book.entries("quay0002"))][-1] == "to see what stays"


def test_re_marking_shows_differences_copies_and_keeps_the_old(course):
    """As after a question was corrected: what the history has for one script is not what it gets now."""

    def marked_by_an_older_question(book):
        right = book.entries("quay0001")[-1]
        wrong = right.verdicts["stroke-is-right"]
        older = right.verdicts | {"stroke-is-right": replace(wrong, marks=1.0, says="By the older question.")}
        book.record(replace(right, verdicts=older, marks=36.0, reason="an older question"))

    _book(course, marked_by_an_older_question)
    command = ["remark", NAME, "--course", str(course), "--reason", "The stroke was asked wrongly", "--workers", "1"]
    shown = CliRunner().invoke(cli, command, input="n\n")
    assert "1 marks would change" in shown.output
    assert marks_in(course)["quay0001"] == 36
    done = CliRunner().invoke(cli, [*command, "--yes"])
    assert done.exit_code == 0, done.output
    assert marks_in(course)["quay0001"] == 38
    reasons = [e.reason for e in _book(course, lambda book: book.entries("quay0001"))]
    assert reasons == ["first marking", "an older question", "The stroke was asked wrongly"]
    assert list((course / "backups").glob("*before-the-stroke-was-asked-wrongly.db"))


def test_late_rules_are_followed_when_they_change(course):
    for student, stamp in (("quay0001", "2031-03-08 11:00:00 UTC"), ("quay0002", "2031-03-07 11:00:00 UTC")):
        (course / "submitted" / student / NAME / "timestamp.txt").write_text(stamp)
    linkkit(course, "mark", "--workers", "1")
    (course / "late.toml").write_text(f"[{NAME}]\ndue = 2031-03-07T12:00:00Z\npercent_a_day = 10\n")
    assert "0 marked now" in linkkit(course, "mark")
    with Gradebook(Course.open(course).db_url, NAME) as book:
        late = {line.student: line.late for line in lines(book)}
        assert (late["quay0001"], late["quay0002"]) == (3.8, 0.0)
        assert book.entries("quay0001")[-1].reason == "the late rules changed"
    page = (course / "feedback" / "quay0001" / NAME / f"{NAME}.html").read_text()
    assert "34.2 of 38" in page
    assert "3.8 marks were taken off" in page
    stock.nbgrader(course, "generate_feedback", NAME, "--student", "quay0001", "--force")
    page = (course / "feedback" / "quay0001" / NAME / f"{NAME}.html").read_text()
    assert "34.2" in page


def test_history_is_only_added_to(course):
    with sqlite3.connect(course / "gradebook.db") as db:
        for attempt in ("UPDATE linkkit_history SET marks = 38", "DELETE FROM linkkit_history"):
            with pytest.raises(sqlite3.IntegrityError, match="only added to"):
                db.execute(attempt)


def test_history_says_when_what_by_which_and_why(marked_course):
    entry = _book(marked_course[0], lambda book: book.entries("quay0001"))[0]
    paper = find_assignment(NAME)
    assert entry.script_hash == handed_in.read(marked_course[0], NAME, "quay0001").hash
    assert entry.versions["questions"] == {q.id: q.version for q in paper.questions}
    assert entry.at
    assert entry.seed
    assert entry.marks == sum(v.marks for v in entry.verdicts.values()) == paper.marks


def test_sqlite_is_set_to_lose_nothing(marked_course):
    with Gradebook(Course.open(marked_course[0]).db_url, NAME) as book, book.engine.connect() as db:
        assert db.exec_driver_sql("PRAGMA synchronous").scalar() == 2  # FULL, says SQLite's list of pragmas


def test_one_writer_at_a_time(course):
    with Course.open(course).one_writer():
        assert "another `linkkit mark`" in linkkit(course, "mark", code=1)


def test_damaged_gradebook_is_refused(course):
    with open(course / "gradebook.db", "r+b") as file:
        file.seek(8192)
        file.write(os.urandom(40_000))
    said = linkkit(course, "mark", code=1)
    assert "damaged" in said
    assert "backup" in said


def test_zip_in_and_zip_out(course, tmp_path):
    with zipfile.ZipFile(tmp_path / "in.zip", "w") as archive:
        archive.writestr("Wet, Anna_quay0003_submission/work.ipynb", filled_in(right_cells(), "quay0003"))
        archive.writestr("nobody/four-links.ipynb", b"{}")
    said = linkkit(
        course, "mark", "--zip-in", str(tmp_path / "in.zip"), "--workers", "1", "--zip-out", str(tmp_path / "out.zip")
    )
    assert "Taken in: 1 scripts." in said
    assert marks_in(course)["quay0003"] == 38
    assert list((course / "replaced" / "quay0003" / NAME).iterdir())
    with zipfile.ZipFile(tmp_path / "out.zip") as out:
        assert len(out.namelist()) == STUDENTS + 1
        assert "38 of 38" in out.read(f"quay0003/{NAME}.html").decode()


def test_without_a_sandbox_it_refuses(course, monkeypatch):
    monkeypatch.setenv("PATH", "")
    said = linkkit(course, "mark", code=1)
    assert "bubblewrap is not installed" in said
    assert "Containerfile" in said


def test_not_for_credit_leaves_the_gradebook_alone(course, monkeypatch):
    monkeypatch.setenv("PATH", "")
    before = (course / "gradebook.db").read_bytes()
    linkkit(course, "mark", "--not-for-credit", "--student", "quay0001", "--workers", "1")
    assert (course / "gradebook.db").read_bytes() == before
    page = (course / "not-for-credit" / NAME / "quay0001.html").read_text()
    assert "not for credit" in page
    assert "38 of 38" in page


def test_unknown_assignment_and_course_get_sentences(course, tmp_path):
    done = CliRunner().invoke(cli, ["mark", "no-such-paper", "--course", str(course)])
    assert "was not released here" in done.output
    done = CliRunner().invoke(cli, ["mark", NAME, "--course", str(tmp_path)])
    assert "no nbgrader course" in done.output


def test_other_key_or_master_means_marking_again(course):
    one = Course.open(course)
    before = task_of(one, NAME).fingerprint
    place = course / "release" / NAME / f"{NAME}.ipynb"
    book = json.loads(place.read_text())
    book["cells"][0]["source"] += "\nA correction."
    place.write_text(json.dumps(book))
    assert task_of(one, NAME).fingerprint != before


def _history(course):
    with sqlite3.connect(course / "gradebook.db") as db:
        return db.execute("SELECT count(*) FROM linkkit_history").fetchone()[0]


def _book(course, ask):
    with Gradebook(Course.open(course).db_url, NAME) as book:
        return ask(book)
