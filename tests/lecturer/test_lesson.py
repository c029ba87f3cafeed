"""`linkkit lesson`: a notebook and an assignment for the machines of the quay and for new ones."""

import json
import shutil
import sys
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from click.testing import CliRunner

import linkkit as lk
from lifting_table import TABLE
from linkkit.cli import cli
from linkkit.coursework import find_assignment, own
from linkkit.coursework.paper import UnknownAssignment
from linkkit.lesson.command import renew, write
from linkkit.lesson.plan import plan
from linkkit.workbook import keep_in, practice
from tolerances import CLOSURE

sys.path.append(str(Path(__file__).parents[1] / "house"))
from rhythm import measure

SLUICE = """name = "Sluice gate"
about = "A hand crank lifts a small gate."
unit = "mm"
fixed = "frame"
output = "gate"

[points]
O = [0, 0]
A = [0, 180]
B = [40, 720]
G = [40, 220]

[links]
frame = ["O"]
crank = ["O", "A"]
rod = ["A", "B"]
gate = ["B", "G"]

[slides.guide]
block = "gate"
on = "frame"
through = "B"
angle_deg = 90

[inputs.crank]
pin = "O"
links = ["frame", "crank"]
"""
RAM = """name = "Ram lift"
unit = "mm"
fixed = "base frame"
output = "arm"

[points]
P = [0, 0]
Q = [0, 600]
1 = [700, 700]
T = [1500, 900]

[links]
"base frame" = ["P", "Q"]
cylinder = ["P"]
rod = ["1"]
arm = ["Q", "1", "T"]

[slides.ram]
block = "rod"
on = "cylinder"
through = "P"
toward = "1"

[inputs.ram]
slide = "ram"
links = ["cylinder", "rod"]
span = [800, 1100]
"""
NEEDLE = """name = "Needle bar drive"
unit = "mm"
fixed = "frame"
output = "needle bar"
points = {O = [0, 0], A = [4, 15], B = [0, -28], N = [0, -90], Q = [32, 20], C = [28, 42], T = [-28, 62]}

[links]
frame = ["O", "Q"]
crank = ["O", "A"]
"connecting rod" = ["A", "B"]
"needle bar" = ["B", "N"]
"take-up lever" = ["A", "C", "T"]
link = ["Q", "C"]

[slides.guide]
block = "needle bar"
on = "frame"
through = "B"
angle_deg = 90

[inputs.crank]
pin = "O"
links = ["frame", "crank"]
"""
IDS = [f"student {n}" for n in range(24)]


@pytest.fixture(autouse=True)
def put_back(monkeypatch, tmp_path):
    """Neither the course that is looked in nor the place of records outlives a test."""
    monkeypatch.setenv("LINKKIT_COURSE", str(tmp_path))
    yield
    keep_in("my-work")


def written(folder, name, text=None):
    """Write the lesson of a machine into a folder; the paper that the assignment's file makes."""
    machine = name
    if text:
        machine = folder / f"{name}.toml"
        machine.write_text(text, encoding="utf-8")
    write(str(machine), folder)
    return own.find(name)


@cache
def planned(name):
    """The plan for a machine of the quay."""
    return plan(lk.machine(name), name)


@pytest.fixture(scope="module")
def once(tmp_path_factory):
    """A course with the sluice's lesson in it, written once."""
    folder = tmp_path_factory.mktemp("once")
    written(folder, "sluice", SLUICE)
    return folder


@pytest.fixture
def sluice(once, tmp_path):
    """A copy of that course, to be spoilt."""
    shutil.copytree(once, tmp_path, dirs_exist_ok=True)
    return tmp_path


def run_cells(folder, name):
    """Run the code cells of the lesson, one after the other, as a student with no prediction yet would."""
    cells = json.loads((folder / f"{name}.ipynb").read_text(encoding="utf-8"))["cells"]
    namespace = {}
    for cell in cells:
        if cell["cell_type"] == "code":
            exec(compile("".join(cell["source"]), cell["id"], "exec"), namespace)
    return namespace


def check_paper(paper):
    """Fair numbers for every id: squarely transmitting, every wrong answer apart, and the worked solution agrees."""
    setting = paper.settings[0]
    many = paper.givens(setting.id, IDS)
    assert setting.fits(many).all()
    for question in paper.questions:
        assert question.apart(many).all(), question.id
        assert question.misconceptions, question.id
        for student in IDS[:2]:
            one = paper.givens(setting.id, student)
            assert question.kind.same(question.by_hand(one).value, question.right(one)), question.id


@pytest.mark.parametrize("name", [n for n in lk.machines() if n != "hatch-closer"])
def test_paper_of_a_quay_machine_is_well_posed(name):
    check_paper(planned(name).assignment())


@pytest.mark.parametrize(
    ("name", "text"), [("sluice", SLUICE), ("ram-lift", RAM), ("hatch-closer", None), ("crate-hoist", None)]
)
def test_lesson_runs_in_an_empty_folder(name, text, tmp_path, monkeypatch):
    paper = written(tmp_path, name, text)
    check_paper(paper)
    monkeypatch.chdir(tmp_path)
    keep_in(tmp_path / "my-work")
    run_cells(tmp_path, name)
    assert measure(tmp_path / f"{name}.ipynb").faults == ()


def read(folder, text):
    """The linkage of a machine file."""
    (folder / "machine.toml").write_text(text, encoding="utf-8")
    return lk.read(folder / "machine.toml")


def test_a_parallelogram_stays_one(tmp_path):
    """A deck that stays level does so for every student, and its way along an arc is not asked for as one length."""
    made = plan(read(tmp_path, TABLE), "table")
    assert not set(made.numbers["points"]) & set("FGHK")
    assert not {"travel", "first_class"} & {a.make for a in made.asked}
    check_paper(made.assignment())
    mine = made.setting().machine(made.assignment().givens("table-mine", "ab123"))
    assert np.ptp(lk.move(mine, lk.reach(mine).values(9)).angle("deck")) < CLOSURE


def test_a_ram_points_from_pin_to_pin(tmp_path):
    """Whoever's pins they are, the cylinder's line runs through both, in the notebook too."""
    made = plan(read(tmp_path, TABLE), "table")
    assert set(made.numbers["points"]) == {"E", "L"}
    setting, mine = made.setting(), made.assignment().givens("table-mine", "ab123")
    namespace = {"lk": lk, "mine": mine}
    exec(setting.code.rpartition("\n")[0], namespace)
    for machine in (setting.machine(mine), namespace["machine"]):
        ram = machine.slide("ram")
        for p in "EL":
            assert abs(((machine.points[p] - ram.through) * np.conj(ram.direction)).imag) < CLOSURE
    assert "the line from E to L" in setting.story


def test_points_that_do_not_matter_are_left_alone(tmp_path):
    """The take-up lever hangs from the same crank pin, and the needle bar knows nothing of it."""
    made = plan(read(tmp_path, NEEDLE), "needle")
    assert set(made.numbers["points"]) <= set("OA")
    assert made.numbers["points"]


def test_a_class_too_near_to_call_is_never_given():
    """A parallelogram has none; sums that differ by a quarter of a thousandth are not told apart either."""
    for off in (0.0, 2.5e-4):
        bar = lk.four_bar(0.4, 0.1, 0.4 + off, 0.1)
        setting = own.drawn(bar, id="x-mine", input_deg=[40], speed_rpm=[60], load_newton=[100])
        g = own.Givens({"input_deg": 40, "speed_rpm": 60, "load_newton": 100}, setting.givens)
        assert not own.first_class(setting).apart(g)


def test_practice_is_on_the_very_machine():
    """Right and wrong answers of the lecturer's own question, with the numbers of the panel."""
    made = planned("net-shaker")
    setting = made.setting()
    asked = own.place(setting, point=made.point, axis=made.axis)
    panel = practice(asked, on=setting, key="shaker/practice-place")
    panel.form.field.value = f"{1000 * asked.right(panel.givens):.6g} mm"
    panel.check.click()
    assert panel.verdict.code == "right"
    panel.another.click()
    wrong = asked.wrong(asked.misconceptions[0], panel.givens)
    panel.form.field.value = f"{1000 * wrong:.6g} mm"
    panel.check.click()
    assert asked.misconceptions[0].says in panel.message.value


def test_numbers_differ_from_student_to_student(sluice):
    paper = own.find("sluice")
    drawn = paper.givens("sluice-mine", IDS)
    assert len(set(zip(drawn.A_x_mm, drawn.A_y_mm, drawn.input_deg, strict=True))) > len(IDS) / 2


def test_a_misspelt_name_is_answered_with_own_ones_too(sluice):
    with pytest.raises(UnknownAssignment, match=r"no assignment 'slice'; there are what-goes-in, .*, sluice$"):
        find_assignment("slice")


def test_machine_of_the_notebook_is_that_of_the_marker(sluice):
    paper = own.find("sluice")
    mine = paper.givens("sluice-mine", "ab123")
    namespace = {"lk": lk, "mine": mine}
    exec(paper.settings[0].code.rpartition("\n")[0], namespace)
    assert namespace["machine"].points == pytest.approx(paper.settings[0].machine(mine).points)


def test_what_is_asked_fits_the_machine():
    asked = {name: {a.make for a in planned(name).asked} for name in ("net-shaker", "ice-chopper", "lamp-turner")}
    assert "first_class" in asked["net-shaker"]
    assert "first_class" not in asked["ice-chopper"]  # it has no four-bar
    assert "travel" not in asked["lamp-turner"]  # its output goes right round
    assert all({"four_link_chains", "place", "velocity", "holding"} <= makes for makes in asked.values())


def test_a_machine_without_a_breakdown_varies_its_input_only(tmp_path):
    """The latch of lesson 05: four links that close only all together, so one linkage is moved at a time."""
    spots = dict(zip("OQABPDR", [0, 0.35, 0.08j, 0.38 + 0.26j, 0.20 + 0.30j, 0.10 + 0.52j, -0.15 + 0.36j], strict=True))
    links = {"frame": "OQR", "crank": "OA", "coupler": "ABP", "rocker": "QB", "link": "PD", "lever": "RD"}
    drive = lk.Input("lever", "angle", "R", ("frame", "lever"))
    latch = lk.Linkage(spots, {k: tuple(v) for k, v in links.items()}, "frame", inputs=[drive], output="crank")
    made = plan(latch, "latch")
    assert made.numbers["points"] == {}
    assert "four_link_chains" not in {a.make for a in made.asked}


def test_nought_is_no_known_wrong_answer():
    """The blade goes straight up and down at x = 0: to write 0 shows no understanding, and earns nothing."""
    asked = {a.make: a.without for a in planned("ice-chopper").asked}
    assert "other-coordinate" in asked["place"]
    assert "other-component" in asked["velocity"]
    assert "other-component" in asked["holding"]
    assert "other-coordinate" not in {a.make: a.without for a in planned("net-shaker").asked}["place"]


def test_sluice_by_hand():
    """Crank up: the rod is 541.48 mm, so the gate's pin lies where a circle about A meets the guide (Pythagoras)."""
    paper_numbers = planned("ice-chopper")
    setting = own.drawn(paper_numbers.linkage, id="x-mine", input_deg=[90], speed_rpm=[60], load_newton=[100])
    g = own.Givens({"input_deg": 90, "speed_rpm": 60, "load_newton": 100}, setting.givens)
    crank, rod = 0.1, np.hypot(0.06, 0.448)  # of the machine's file
    assert own.place(setting, point="B", axis="y").right(g) == pytest.approx(crank - rod)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "there is no [points] table"),
        (SLUICE.replace('"gate"\n\n', '"gatte"\n\n'), "the output 'gatte' is not one of the links"),
        (SLUICE.replace("rod", '"the \\"rod\\""'), "leave quotes"),
        (SLUICE.replace("[0, 180]", "[0, 20]").replace("angle_deg = 90", "angle_deg = 0"), "degrees or more"),
    ],
)
def test_a_machine_that_will_not_do_is_refused_and_nothing_is_written(text, says, tmp_path):
    file = tmp_path / "bad.toml"
    file.write_text(text, encoding="utf-8")
    done = CliRunner().invoke(cli, ["lesson", str(file), "--to", str(tmp_path / "out")])
    assert done.exit_code == 1
    assert says in " ".join(done.output.split())
    assert not (tmp_path / "out").exists()


def test_nothing_is_overwritten(sluice):
    questions = sluice / "source" / "sluice" / "sluice.py"
    questions.write_text(
        questions.read_text(encoding="utf-8").replace('TITLE = "Sluice gate"', 'TITLE = "Mine"'), encoding="utf-8"
    )
    done = CliRunner().invoke(cli, ["lesson", str(sluice / "sluice.toml"), "--to", str(sluice)])
    assert done.exit_code == 1
    assert "is not overwritten" in done.output
    renew("sluice", sluice)
    assert "# Mine" in (sluice / "source" / "sluice" / "sluice.ipynb").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ('point="B"', 'point="X"', "there is no point 'X'"),
        ("own.travel(MINE)", "own.travel(MINE", "Python cannot read this"),
        ("own.travel(MINE)", "own.travels(MINE)", "has no attribute 'travels'"),
        ("QUESTIONS = (", "QUESTION = (", "it must say QUESTIONS"),
        ("own.travel(MINE)", 'own.travel(MINE, "its chains")', "cannot name a variable"),
        ("own.travel(MINE)", 'own.travel(MINE, "its_chains")', "two questions have the id"),
        ("own.travel(MINE)", "own.travel(MINE, without=['far'])", "has no wrong answer far"),
        ("own.travel(MINE)", "own.travel(MINE, marks='two')", "marks is a number above nought"),
        ('axis="y"', 'axis="z"', 'axis is "x" or "y"'),
        ("load_newton=range(200, 1001, 50)", "load_newton=[]", "load_newton needs a list of whole numbers"),
        ("load_newton=range(200, 1001, 50)", "load_newton=[99.5]", "load_newton needs a list of whole numbers"),
        ("    load_newton=range(200, 1001, 50),\n", "", "this question needs load_newton"),
        ('"A": (range', '"A": range(5), "O": (range', "A needs the values of x and those of y"),
        ("least_deg=30", "least_deg=89.9", "widen the ranges"),
    ],
)
def test_a_slip_in_the_questions_is_named(old, new, says, sluice):
    questions = sluice / "source" / "sluice" / "sluice.py"
    text = questions.read_text(encoding="utf-8")
    assert old in text
    questions.write_text(text.replace(old, new), encoding="utf-8")
    done = CliRunner().invoke(cli, ["lesson", "sluice.toml", "--to", str(sluice), "--renew"])
    assert done.exit_code == 1
    assert "sluice.py" in done.output
    assert says in " ".join(done.output.split())
