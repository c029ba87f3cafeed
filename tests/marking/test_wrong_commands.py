"""Every command of marking answers wrong use with a sentence, and the commands on what is kept do what they say."""

import pytest
from click.testing import CliRunner
from cohorts import released

from linkkit.cli import cli
from linkkit.coursework.verdict import Verdict
from linkkit.marking import late
from linkkit.marking.course import Course
from linkkit.marking.gradebook import Gradebook
from linkkit.marking.history import Entry

NAME = "four-links"


def linkkit(*words):
    done = CliRunner().invoke(cli, [str(word) for word in words])
    assert done.exception is None or isinstance(done.exception, SystemExit), repr(done.exception)
    return done.exit_code, " ".join(done.output.split())


@pytest.fixture
def course(empty_course, tmp_path):
    """A course in which ab123 was marked twice."""
    made = empty_course(tmp_path)
    with Gradebook(Course.open(made).db_url, NAME) as book:
        for marks, reason in ((1.0, "first marking"), (3.0, "the tolerance was too tight")):
            verdicts = {"swing-is-right": Verdict(marks, 3, "Half = wrong", "wrong")}
            versions = {"linkkit": "0", "marker": 2}
            book.record(Entry("ab123", reason, "h" * 64, "f" * 16, versions, 7, "", marks, 0.0, verdicts))
    return made


def configure(course, line):
    (course / "nbgrader_config.py").write_text(f"c = get_config()\n{line}\n")


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("c.CourseDirectory.db_url = 'nonsense'", "the gradebook can't be opened"),
        ("c.CourseDirectory.db_url = 'postgresql://nobody@127.0.0.1:1/x'", "127.0.0.1"),
        ("c = (", "nbgrader_config.py can't be read: SyntaxError"),
        ("1 / 0", "nbgrader_config.py can't be read: ZeroDivisionError"),
        ("c.CourseDirectory.submitted_directory = 'x'", "moves submitted_directory"),
    ],
)
def test_configuration_that_does_not_work(course, line, says):
    configure(course, line)
    code, said = linkkit("export", NAME, "--course", course)
    assert (code, says in said) == (1, True), said


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("export", "velocity"), "the gradebook does not know velocity"),
        (("export", NAME, "--class-id", "a class"), "'a class' can't be a sourcedId"),
        (("log", "velocity"), "the gradebook does not know velocity"),
        (("by-hand", NAME), "nothing in four-links is marked by hand"),
        (("by-hand", "no-such"), "there is no assignment 'no-such'"),
    ],
)
def test_wrong_words(course, words, says):
    code, said = linkkit(*words, "--course", course)
    assert (code, says in said) == (1, True), said


def test_late_rules_for_an_assignment_that_is_not_there(tmp_path):
    (tmp_path / late.FILE).write_text("[four-lnks]\ndue = 2031-03-07T12:00:00Z\n")
    with pytest.raises(late.LateFileError, match="there is no assignment 'four-lnks'; there are what-goes-in"):
        late.read_rules(tmp_path)


def test_late_rules_for_an_assignment_of_the_lecturers_own(tmp_path):
    (tmp_path / "source" / "sluice").mkdir(parents=True)
    (tmp_path / late.FILE).write_text("[sluice]\ndue = 2031-03-07T12:00:00Z\n")
    assert late.read_rules(tmp_path).due("sluice", "ab123")


def test_extension_holds_however_the_id_is_written(tmp_path):
    (tmp_path / late.FILE).write_text(
        "[four-links]\ndue = 2031-03-07T12:00:00Z\n[four-links.extensions]\nAB123 = 2031-03-09T12:00:00Z\n"
    )
    assert late.days_late(late.read_rules(tmp_path), NAME, "ab123", "2031-03-09 11:00:00 UTC") == 0


def test_gradebook_is_copied_and_put_back(course, tmp_path):
    def entries():
        with Gradebook(Course.open(course).db_url, NAME) as book:
            return len(book.entries("ab123"))

    code, said = linkkit("backup", "--course", course)
    assert (code, "The gradebook is copied to" in said) == (0, True), said
    kept = max((course / "backups").glob("*by-hand.db"))
    with Gradebook(Course.open(course).db_url, NAME) as book:
        book.record(book.entries("ab123")[-1])
    assert entries() == 3
    code, said = linkkit("backup", "--course", course, "--restore", kept)
    assert (code, "is the gradebook again" in said, entries()) == (0, True, 2), said
    assert list((course / "backups").glob("*before-restoring.db")), "the one before is kept"
    (tmp_path / "odd.db").write_text(released()[:500])
    code, said = linkkit("backup", "--course", course, "--restore", tmp_path / "odd.db")
    assert (code, "is damaged" in said, entries()) == (1, True, 2), said


def test_backup_of_nothing(tmp_path):
    (tmp_path / "source").mkdir()
    assert linkkit("backup", "--course", tmp_path) == (1, "Error: there is no gradebook to copy yet")


def test_feedback_goes_out_where_no_folder_was(course, tmp_path):
    from linkkit.marking.archive import give_out

    assert give_out(Course.open(course), NAME, tmp_path / "new" / "out.zip") == 0
    assert (tmp_path / "new" / "out.zip").is_file()
