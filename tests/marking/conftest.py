import pytest

from linkkit.coursework.key import make_key


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
