"""One script marked three ways gets one mark: `linkkit mark`, `nbgrader autograde`, and the paper in a notebook.

The paper is the mixed one: it has parts that build on each other, a function in one's own code, and prose.
"""

import json
import warnings
from pathlib import Path

import pytest
from click.testing import CliRunner
from running import run

from linkkit.cli import cli
from linkkit.coursework import find_assignment
from linkkit.marking import stock
from linkkit.marking.course import Course
from linkkit.marking.gradebook import Gradebook
from linkkit.marking.marks import lines
from linkkit.marking.scripts import Script, model_cells

pytestmark = pytest.mark.needs_bubblewrap
NAME = "mixed-paper"
PAPER = find_assignment(NAME)
ALL = PAPER.marks_by_machine
COURSE = Path(__file__).parents[2] / "exercises"
SLIP = """x = shaker.crank * np.exp(1j * shaker.crank_angle)
rocker_angle = (lk.move(lk.four_bar(shaker.ground, shaker.crank, shaker.coupler, shaker.rocker),
                        shaker.crank_angle).angle("rocker") - np.radians(7), "rad")
"""
FOLLOWS = """b = shaker.ground + shaker.rocker * np.exp(1j * rocker_angle[0])
between = abs(np.angle((b - x) / np.exp(1j * rocker_angle[0]))) % np.pi
transmission_here = (min(between, np.pi - between), "rad")
"""
LEANS = """def slider_x(crank_angle):
    return float(lk.move(lk.slider_crank(chopper.crank, chopper.rod, offset=chopper.offset), crank_angle).point("B").real)
"""
LEANS_INSIDE = LEANS.replace("):\n", "):\n    import linkkit as lk\n", 1)
# the package used for one question, and a helper beside it that own code needs
BESIDE = """net = lk.four_bar(shaker.ground, shaker.crank, shaker.coupler, shaker.rocker)
rocker_angle = (lk.move(net, shaker.crank_angle).angle("rocker"), "rad")
def rise(angle):
    return chopper.offset - chopper.crank * np.sin(angle)
"""
USES = """def slider_x(crank_angle):
    return chopper.crank * np.cos(crank_angle) + np.sqrt(chopper.rod ** 2 - rise(crank_angle) ** 2)
"""
# what each script changes of the right one, and the mark it deserves: the slip costs its own 3 marks and a third of 3
SCRIPTS = {
    "right": ({}, ALL),
    "slipped-and-leaning": (
        {"rocker-angle-answer": SLIP, "transmission-here-answer": FOLLOWS, "slider-x-answer": LEANS},
        ALL - 3 - 1 - 6,
    ),
    "leaning-inside": ({"slider-x-answer": LEANS_INSIDE}, ALL - 6),
    "helped": ({"rocker-angle-answer": BESIDE, "slider-x-answer": USES, "swing-answer": "swing = helper()"}, ALL),
}
HELPER = (
    f"def helper():\n{chr(10).join('    ' + row for row in PAPER.by_id['swing'].model.splitlines())}\n    return swing"
)


def script(student):
    changed, expected = SCRIPTS[student]
    cells = {"your-id": f'student_id = "{student}"'} | model_cells(PAPER) | changed
    return Script(student, student, expected, cells)


@pytest.fixture(scope="module")
def handed_in(tmp_path_factory):
    """A course with these scripts handed in; `helped` has its code in a cell of its own."""
    course = tmp_path_factory.mktemp("course")
    stock.scratch_course(COURSE, NAME, course)
    stock.nbgrader(course, "generate_assignment", NAME)
    stock.hand_in(course, NAME, [script(student) for student in SCRIPTS])
    place = course / "submitted" / "helped" / NAME / f"{NAME}.ipynb"
    notebook = json.loads(place.read_text())
    at = next(n for n, cell in enumerate(notebook["cells"]) if cell["id"] == "swing-answer")
    own = {"cell_type": "code", "id": "own", "metadata": {}, "source": HELPER, "outputs": [], "execution_count": None}
    notebook["cells"].insert(at, own)
    place.write_text(json.dumps(notebook))
    return course


@pytest.fixture(scope="module")
def by_linkkit(handed_in):
    """Marks by student, and the folder of the pages."""
    done = CliRunner().invoke(cli, ["mark", NAME, "--course", str(handed_in), "--workers", "1"])
    assert done.exit_code == 0, done.output
    with Gradebook(Course.open(handed_in).db_url, NAME) as book:
        return {line.student: line.given for line in lines(book)}, handed_in / "feedback"


@pytest.fixture(scope="module")
def by_nbgrader(handed_in, by_linkkit):
    """Marks by student of the same course, marked after linkkit and over its marks."""
    stock.nbgrader(handed_in, "autograde", NAME, "--force")
    return stock.marks(handed_in, NAME)


in_notebooks = {}  # verdicts by student: each notebook is run once


def in_the_notebook(student, being_marked):
    if student not in in_notebooks:
        being_marked(student)
        in_notebooks[student] = run_notebook(student)
    return in_notebooks[student]


def run_notebook(student):
    cells = script(student).cells
    cells["swing-answer"] = cells["swing-answer"].replace("swing = helper()", f"{HELPER}\nswing = helper()")
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        return run(NAME, cells, student)


@pytest.mark.parametrize("student", SCRIPTS)
def test_three_ways_agree(student, by_linkkit, by_nbgrader, being_marked):
    paper = sum(m.verdict.marks or 0.0 for m in in_the_notebook(student, being_marked).values())
    expected = SCRIPTS[student][1]
    assert (by_linkkit[0][student], by_nbgrader[student], paper) == (expected, expected, expected)


def test_what_is_carried_is_said(by_linkkit, being_marked):
    verdict = in_the_notebook("slipped-and-leaning", being_marked)["transmission-here-is-right"].verdict
    assert verdict.code == "carried"
    page = (by_linkkit[1] / "slipped-and-leaning" / NAME / f"{NAME}.html").read_text()
    assert "follows rightly from your own earlier answer" in page


@pytest.mark.parametrize("student", ["slipped-and-leaning", "leaning-inside"])
def test_leaning_on_the_package_is_told_why(student, by_linkkit, being_marked):
    verdict = in_the_notebook(student, being_marked)["slider-x-is-right"].verdict
    assert "wants code of your own" in verdict.says
    assert "wants code of your own" in (by_linkkit[1] / student / NAME / f"{NAME}.html").read_text()
