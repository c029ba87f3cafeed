"""Every hostile and every broken script gets the mark that stands in its file, and harms nobody else."""

import importlib.util
import json

import pytest
from cohorts import TINY_LIMITS, filled_in, released, right_cells
from running import SCRIPTS, cells_of, header, stands_alone

from linkkit.marking import handed_in, one_script
from linkkit.marking.execution import execute
from linkkit.marking.one_script import Marker, Task
from linkkit.marking.sandbox import Ran
from linkkit.marking.scripts import right

pytestmark = pytest.mark.needs_bubblewrap
HOSTILE = sorted((SCRIPTS / "hostile").glob("*.py"))
BROKEN = sorted((SCRIPTS / "broken").glob("*.py"))
STUDENT = "ab123"
KEY = "a key of the tests' own"


def name(path):
    return path.stem


@pytest.fixture(scope="module")
def marker():
    with Marker(Task("four-links", released(), KEY, limits=TINY_LIMITS)) as made:
        yield made


@pytest.fixture(scope="module")
def open_marker():
    """A marker without walls."""
    with Marker(Task("four-links", released(), KEY, limits=TINY_LIMITS, credit=False)) as made:
        yield made


def lines_of(path, what):
    words = path.read_text(encoding="utf-8").splitlines()
    return [line.removeprefix(f"# {what}: ") for line in words if line.startswith(f"# {what}: ")]


def hostile_script(path):
    cells = cells_of(path) if stands_alone(path) else right_cells() | cells_of(path)
    return filled_in(cells, STUDENT)


@pytest.mark.parametrize("path", HOSTILE, ids=name)
def test_hostile_script(path, marker):
    marked = marker.mark(handed_in.HandedIn(STUDENT, hostile_script(path)))
    assert marked.fault == ""
    assert (marked.marks or 0.0) == pytest.approx(float(header(path)), abs=0.005), marked.verdicts
    for says in lines_of(path, "says"):
        assert says in marked.page
    for absent in lines_of(path, "absent"):
        assert absent not in marked.page
    assert len(marked.page) < 100_000
    assert len(marked.notebook) < 500_000
    assert KEY not in marked.page + marked.notebook


def test_box_is_as_good_as_new_after_all_that(marker):
    """Each of these ends its process, or what comes from it, in a way of its own."""
    for attack in (
        "crashes",
        "exits",
        "memory-bomb",
        "rubbish-into-every-pipe",
        "signals-to-itself",
        "undoes-the-walls",
    ):
        marker.mark(handed_in.HandedIn(STUDENT, hostile_script(SCRIPTS / "hostile" / f"{attack}.py")))
    honest = marker.mark(handed_in.HandedIn("honest", filled_in(right_cells(), "honest")))
    assert honest.marks == marker.assignment.marks
    assert honest.said == ()


@pytest.mark.parametrize("path", BROKEN, ids=name)
def test_broken_script(path, marker, tmp_path):
    fault = _module(path)
    folder = tmp_path / "submitted" / STUDENT / "four-links"
    folder.mkdir(parents=True)
    fault.hand_in(folder, json.loads(filled_in(right_cells(), STUDENT)))
    marked = marker.mark(handed_in.read(tmp_path, "four-links", STUDENT))
    assert marked.marks == (None if fault.MARK is None else pytest.approx(fault.MARK, abs=0.005)), marked.verdicts
    assert fault.SAYS in " ".join((*marked.said, marked.fault))
    assert all(verdict.says for verdict in marked.verdicts.values())


def _module(path):
    about = importlib.util.spec_from_file_location(path.stem.replace("-", "_"), path)
    made = importlib.util.module_from_spec(about)
    about.loader.exec_module(made)
    return made


@pytest.mark.parametrize("attack", ["starts-a-shell", "memory-outside-its-limit", "reads-the-environment"])
def test_attack_gets_through_without_the_walls(attack, open_marker):
    """So it is the walls that stop it, not a fault of the script."""
    path = SCRIPTS / "hostile" / f"{attack}.py"
    assert open_marker.mark(handed_in.HandedIn(STUDENT, hostile_script(path))).marks == 36


def test_fault_of_the_marker_is_no_end_of_the_run(marker, monkeypatch):
    def fails(*words):
        raise KeyError("ours")

    monkeypatch.setattr(one_script, "rebuild", fails)
    marked = marker.mark(handed_in.HandedIn(STUDENT, b"{}"))
    assert marked.fault.startswith("The marker failed (KeyError)")
    assert marked.marks is None


def test_answers_to_what_was_not_asked_are_not_taken():
    """Of a question that wants own code, none from the box where the package is."""
    ran = Ran(
        ({"at": "a"}, {"answer": "other-is-right", "raw": 1.0}, {"answer": "a", "raw": 2.0}, {"done": True}), ended=0
    )

    class Boxed:
        run = staticmethod(lambda request, limits: ran)

    assert execute(Boxed, {"steps": [{"id": "a", "name": "a", "inputs": None}]}, TINY_LIMITS).raws == {"a": 2.0}


def test_there_are_many_of_each():
    assert len(HOSTILE) >= 30
    assert len(BROKEN) >= 20


def test_model_answers_are_right_in_the_sandbox(marker):
    script = right(marker.assignment, "quay0001")
    assert marker.mark(handed_in.HandedIn("quay0001", filled_in(script.cells, "quay0001"))).marks == script.expected


def test_two_runs_give_the_same_pages(marker):
    script = handed_in.HandedIn(STUDENT, filled_in(right_cells(), STUDENT))
    first, second = marker.mark(script), marker.mark(script)
    assert (first.page, first.notebook, first.verdicts) == (second.page, second.notebook, second.verdicts)
