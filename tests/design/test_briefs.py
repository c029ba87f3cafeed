"""`linkkit design`: every task from a brief, what it writes, and what it says of a faulty one."""

import re
from pathlib import Path

import pytest
from click.testing import CliRunner

import linkkit as lk
from linkkit.briefs import TASKS, BriefError, read_brief
from linkkit.cli import cli

BRIEFS = {
    "function": 'function = "1/x"\nx = [1, 2]\ncrank_deg = [30, 120]\nrocker_deg = [240, 330]\nground_mm = 300',
    "poses": "poses = [[100, 200, 0], [200, 250, -11], [300, 200, -29]]\npins_mm = [[-50, 0], [60, 20]]",
    "crank-rocker": "swing_deg = 40\ntime_ratio = 1.25\nrocker_mm = 250",
    "slider-crank": "stroke_mm = 120\ntime_ratio = 1.2",
    "quick-return": "stroke_mm = 120\ntime_ratio = 1.7\ncrank_mm = 30",
    "straight-line": 'stroke_mm = 320\nform = "chebyshev"',
    "path": "places_mm = [[0, 0], [100, 20], [200, 20], [300, 0]]\ntries = 3000\nkeep = 2",
    "sketched curve": "places_mm = [[0, 0], [100, 20], [200, 0], [180, 60], [100, 90], [20, 60]]\nkeep = 2",
    "search": """tries = 2000
keep = 2
[four-bar_mm]
ground = 400
crank = [50, 150]
coupler = 350
rocker = [200, 300]
[[aims]]
kind = "swing"
link = "rocker"
wanted_deg = 45
[[limits]]
kind = "transmission"
least_deg = 30""",
}


def written(tmp_path, task, text):
    path = tmp_path / "brief.toml"
    path.write_text(f'task = "{task}"\n{text}\n', encoding="utf-8")
    return path


@pytest.fixture(autouse=True)
def small_index(tmp_path_factory, monkeypatch):
    """An index of few curves, away from the user's cache."""
    from linkkit.design import curves

    monkeypatch.setattr(curves, "COUNT", 3000)
    monkeypatch.setattr(curves, "cache_file", lambda: tmp_path_factory.getbasetemp() / "curves.npz")
    monkeypatch.setattr(curves.curve_index, "__kwdefaults__", curves.curve_index.__kwdefaults__ | {"count": 3000})


def test_every_task_has_an_example():
    assert set(BRIEFS) == set(TASKS)


@pytest.mark.parametrize("task", BRIEFS)
def test_each_task_gives_candidates_and_files(tmp_path, task):
    brief = written(tmp_path, task, BRIEFS[task])
    machine, page, picture = (tmp_path / name for name in ("out.toml", "out.html", "out.svg"))
    done = CliRunner().invoke(
        cli, ["design", str(brief), "--machine", str(machine), "--page", str(page), "--picture", str(picture)]
    )
    assert done.exit_code == 0, done.output
    assert "Candidate 1" in done.output
    assert "local codes" in " ".join(done.output.split())
    again = lk.read(machine)
    assert lk.move(again).ok.any()
    told = page.read_text(encoding="utf-8")
    assert "Play" in told
    assert re.search(r"defects</th><td>.+?</td>", told)
    assert "local codes" in told
    assert picture.read_text(encoding="utf-8").startswith("<svg")


def test_the_machine_written_does_what_was_asked(tmp_path):
    brief = written(tmp_path, "crank-rocker", BRIEFS["crank-rocker"])
    CliRunner().invoke(cli, ["design", str(brief), "--machine", str(tmp_path / "out.toml")])
    known = lk.facts(lk.read(tmp_path / "out.toml"))
    assert known.swing == pytest.approx(0.6981317, rel=1e-6)
    assert known.time_ratio == pytest.approx(1.25, rel=1e-6)


def test_candidates_are_told_in_words(tmp_path):
    done = CliRunner().invoke(cli, ["design", str(written(tmp_path, "function", BRIEFS["function"]))])
    assert "1 of 1 candidates" in done.output
    assert re.search(r"rocker's pointer, from QB +180\.000 deg", done.output)


def test_a_shaking_force_may_be_an_aim(tmp_path):
    """The law: without change of shape, the force goes with mass and with the square of the speed."""
    aim = '[[aims]]\nkind = "shaking"\nmasses_kg = {{ coupler = {} }}\nspeed_rpm = {}\nwithin_N = 1\n'
    text = (
        "tries = 1\nkeep = 1\n"
        + aim
        + "[four-bar_mm]\nground = 400\ncrank = [100, 100.001]\ncoupler = 350\nrocker = 250"
    )
    slow, heavy, fast = (
        read_brief(written(tmp_path, "search", text.format(*given))).run().best.misses["shaking force"]
        for given in ((1, 60), (3, 60), (1, 120))
    )
    assert (heavy / slow, fast / slow) == (pytest.approx(3, rel=1e-4), pytest.approx(4, rel=1e-4))


def test_places_may_stand_in_a_table(tmp_path):
    table = tmp_path / "places.csv"
    table.write_text("0, 0\n100, 20\n200, 0\n", encoding="utf-8")
    asked = read_brief(written(tmp_path, "path", f"places_mm = '{table}'"))
    assert asked.places.tolist() == [0, 0.1 + 0.02j, 0.2]


@pytest.mark.parametrize("text", ["log10", "log10(x)"])
def test_functions_have_names(tmp_path, text):
    brief = 'function = "{}"\nx = [1, 10]\ncrank_deg = [30, 120]\nrocker_deg = [240, 330]\npoints = 5'
    found = read_brief(written(tmp_path, "function", brief.format(text))).run()
    assert [one.figures["least squares of"] for one in found] == ["the structural error", "Freudenstein's equation"]


FAULTS = [
    ("crank-rocker", "swing_dge = 40", "did you mean swing_deg"),
    ("crank-rocker", "", "needs swing_deg"),
    ("crank-rocker", 'swing_deg = "forty"', "swing_deg must be a number"),
    ("crank-rocker", "swing_deg = true", "swing_deg must be a number"),
    ("crank-rocker", "swing_deg = 200", "below half a turn"),
    ("crank-rocker", "swing_deg = 40\n[[limits]]\nkind = 'transmission'\nleast_deg = 40", "limits do not belong"),
    ("crank-rocker", "swing_deg = 40\n[[aims]]\nkind = 'level'\nlink = 'tray'", "aims are for the task search"),
    ("crank rocker", "swing_deg = 40", "did you mean crank-rocker"),
    ("crank-rocker", "swing_deg = 40\ntime_ratio = 5", "brief.toml: no crank-rocker"),
    ("crank-rocker", "title = 4\nswing_deg = 40", "title must be a text"),
    ("slider-crank", "stroke_mm = -120", "stroke_mm must be more than 0 mm, not -120"),
    ("slider-crank", "stroke_mm = 120", "brief.toml: with a time ratio of 1"),
    ("path", "places_mm = [[0, 0], [1, 0]]", "at least three places"),
    (
        "search",
        BRIEFS["search"].replace("[50, 150]", "[150, 50]"),
        "crank must be .* the lower one first, not \\[150, 50\\]",
    ),
    ("search", "machine = 'crate-hoist'\n[free_mm]\nD = 5", "at least one \\[\\[aims\\]\\]"),
    (
        "search",
        BRIEFS["search"].replace("wanted_deg = 45", "wanted_deg = 45\nwithin_mm = 5"),
        "did you mean within_deg",
    ),
    ("search", "machine = 'crate-hoist'\naims = 3\n[free_mm]\nD = 5", "tables of their own"),
    (
        "search",
        "machine = 'crate-hoist'\nfree_mm = 5\n[[aims]]\nkind = 'level'\nlink = 'tray'",
        "free_mm must be a table",
    ),
    ("crank-rocker", "swing_deg = ", "is not TOML"),
    ("function", BRIEFS["function"].replace("1/x", "1/("), "must be a formula in x"),
    ("function", BRIEFS["function"].replace("[1, 2]", "[-1, 1]"), "finite value"),
    ("poses", "poses = [[1, 2]]", "each \\[x, y, angle\\]"),
    ("poses", "poses = 3", "must be a list of poses"),
    ("path", "places_mm = [[0, 0], [1]]", "must be a place"),
    ("path", "places_mm = 'nowhere.csv'", "nowhere.csv"),
    ("path", "places_mm = [[0, 0], [1, 0], [2, 1]]\nclosed = 'yes'", "true or false"),
    ("path", "places_mm = [[0, 0], [1, 0], [2, 1]]\ntries = 1.5", "whole number"),
    ("search", "machine = 'crate-hoist'\n[[aims]]\nkind = 'level'\nlink = 'tray'", "a search needs machine and"),
    ("search", "machine = 'crane'\n[free_mm]\nD = 5", "crane"),
    ("search", "machine = 'crate-hoist'\n[free_mm]\nD = 5\n[[aims]]\nkind = 'levle'", "needs a kind"),
    (
        "search",
        "machine = 'crate-hoist'\n[free_mm]\nD = 5\n[[aims]]\nkind = 'level'",
        "level in \\[\\[aims\\]\\] needs link",
    ),
    ("search", "machine = 'crate-hoist'\n[free_mm]\nZZ = 5\n[[aims]]\nkind = 'level'\nlink = 'tray'", "no point 'ZZ'"),
    ("search", "[four-bar_mm]\nground = 4\n[[aims]]\nkind = 'level'\nlink = 'coupler'", "give each of ground"),
]


@pytest.mark.parametrize(("task", "text", "says"), FAULTS)
def test_a_faulty_brief_is_answered_in_a_sentence(tmp_path, task, text, says):
    done = CliRunner().invoke(cli, ["design", str(written(tmp_path, task, text))])
    assert done.exit_code == 1
    assert done.exception is None or isinstance(done.exception, SystemExit)
    with pytest.raises((BriefError, lk.LinkageError, OSError), match=says):
        read_brief(tmp_path / "brief.toml").run()


@pytest.mark.parametrize("task", TASKS)
def test_the_page_tells_every_entry_of_a_task(task):
    page = Path(__file__).parents[2] / "docs" / "design.md"
    (row,) = [x for x in page.read_text(encoding="utf-8").splitlines() if x.startswith(f"| {task} | `")]
    _, known = TASKS[task]
    assert set(re.findall("`(.*?)`", row)) == set(known)
    if task != "search":
        assert set(re.findall("`(.*?)`", row.split("|")[2])) == {key for key, entry in known.items() if entry.needed}


def test_faults_of_the_command_line(tmp_path):
    brief = str(written(tmp_path, "crank-rocker", BRIEFS["crank-rocker"]))
    for more, says in ((["--choose", "3"], "number of a candidate"), (["--page", "x.pdf"], "must end in .html")):
        done = CliRunner().invoke(cli, ["design", brief, *more])
        assert done.exit_code == 1
        assert says in " ".join(done.output.split())
    assert CliRunner().invoke(cli, ["design", "nothing.toml"]).exit_code == 2
