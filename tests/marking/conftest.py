import shutil
from pathlib import Path

import pytest

from linkkit.coursework.key import make_key
from linkkit.marking import stock

ROOT = Path(__file__).parents[2]


@pytest.fixture
def being_marked(tmp_path, monkeypatch):
    """Stand where nbgrader stands when it marks the script of a student: a function of the id."""

    def stand(student):
        folder = tmp_path / "autograded" / student / "four-links"
        folder.mkdir(parents=True, exist_ok=True)
        make_key(tmp_path)
        monkeypatch.chdir(folder)
        monkeypatch.setenv("NBGRADER_EXECUTION", "autograde")

    return stand


@pytest.fixture(scope="session")
def empty_course(tmp_path_factory):
    """Copy a course in which four-links has been released by nbgrader; a function of the folder."""
    made = tmp_path_factory.mktemp("course") / "released"
    made.mkdir()
    stock.scratch_course(ROOT / "exercises", "four-links", made)
    stock.nbgrader(made, "generate_assignment", "four-links")
    return lambda folder: Path(shutil.copytree(made, folder / "course"))


@pytest.fixture
def copy_course(tmp_path):
    """Copy a course, to be changed by one test."""
    return lambda course: Path(shutil.copytree(course, tmp_path / "copy", symlinks=True))
