"""Prose and drawings: the student's own right picture beside them, what was handed in made harmless."""

import base64
import io
import json
import shutil
from pathlib import Path

import nbformat
import pytest
from click.testing import CliRunner
from cohorts import filled_in, released
from nbconvert.filters.markdown_mistune import markdown2html_mistune
from PIL import Image

from linkkit.cli import cli
from linkkit.coursework import find_assignment
from linkkit.marking import feedback, saved, stock
from linkkit.marking.attached import LARGEST, harmless
from linkkit.marking.by_hand import hidden_from_students, with_pictures
from linkkit.marking.execution import Executed
from linkkit.marking.for_students import HideFromStudents
from linkkit.marking.picture_size import size_of
from linkkit.marking.rebuild import Master, rebuild

COURSE = Path(__file__).parents[2] / "exercises"
NAME, CELL = "mixed-paper", "shaker-diagram-answer"
PAPER = find_assignment(NAME)


def picture(kind, size, **more):
    """A picture made by a library of pictures, in base64."""
    made = io.BytesIO()
    Image.new("RGB", size).save(made, kind, **more)
    return base64.b64encode(made.getvalue()).decode()


DOT = picture("png", (3, 2))
GOOD = {"d.png": {"image/png": DOT}}


def handed_in(text, attachments):
    notebook = json.loads(filled_in({CELL: text}, "ab123", NAME))
    cell = next(cell for cell in notebook["cells"] if cell["id"] == CELL)
    cell["attachments"] = attachments
    return json.dumps(notebook).encode()


def marked_notebook(text, attachments, student="ab123"):
    master = Master.read(released(NAME))
    made = saved.notebook(master, rebuild(master, handed_in(text, attachments)), Executed(), {})
    return json.loads(with_pictures(made, PAPER, student))


def cells_named(notebook, name):
    return [cell for cell in notebook["cells"] if cell["id"] == name]


def test_drawing_reaches_the_tutor_with_the_right_one_below_it():
    notebook = marked_notebook("![d.png](attachment:d.png)", GOOD)
    (drawn,) = cells_named(notebook, CELL)
    assert (drawn["source"], drawn["attachments"]) == ("![d.png](attachment:d.png)", GOOD)
    (right,) = cells_named(notebook, f"{CELL}-right")
    svg = right["outputs"][0]["data"]["text/html"]
    other = cells_named(marked_notebook("", {}, "cd456"), f"{CELL}-right")[0]["outputs"][0]["data"]["text/html"]
    assert svg.startswith("<svg")
    assert svg != other, "everybody has their own right picture"


def test_cells_of_ones_own_are_shown_where_they_stand():
    notebook = json.loads(filled_in({}, "ab123", NAME))
    at = next(n for n, cell in enumerate(notebook["cells"]) if cell["id"] == "swing-answer")
    notebook["cells"].insert(
        at + 1, {"cell_type": "code", "id": "x", "metadata": {}, "source": "print(7)", "outputs": []}
    )
    master = Master.read(released(NAME))
    done = Executed(printed={"swing-answer +1": "7"})
    made = json.loads(saved.notebook(master, rebuild(master, json.dumps(notebook).encode()), done, {}))
    names = [cell["id"] for cell in made["cells"]]
    own = made["cells"][names.index("swing-answer") + 1]
    assert (own["source"], own["outputs"][0]["text"]) == ("print(7)", "7")
    assert len(names) == len(set(names)) == len(notebook["cells"])


def test_feedback_says_what_is_left_to_a_tutor():
    page = feedback.page(PAPER, [], "ab123", {})
    assert "Marked by a tutor, and not in this sum: The position diagram (6); What is it good for? (3)." in page
    assert "Marked by a tutor" not in feedback.page(find_assignment("velocity"), [], "ab123", {})


def test_students_are_not_shown_the_right_one():
    notebook = nbformat.from_dict(marked_notebook("", {}))
    shown, _ = HideFromStudents()(notebook, {})
    assert not cells_named(shown, f"{CELL}-right")
    assert cells_named(shown, CELL)


def test_pictures_only_go_where_the_course_hides_them(tmp_path):
    course = tmp_path / "course"
    course.mkdir()
    assert not hidden_from_students(course, PAPER)
    (course / "nbgrader_config.py").write_text("c = get_config()\nc.GenerateFeedback.preprocessors = []\n")
    assert not hidden_from_students(course, PAPER)
    (course / "nbgrader_config.py").unlink()
    stock.scratch_course(COURSE, NAME, course)
    assert hidden_from_students(course, PAPER)
    assert not hidden_from_students(course, find_assignment("velocity")), "nothing of it is drawn"


@pytest.mark.parametrize(
    "attachments",
    [
        {"x.svg": {"image/svg+xml": "<svg onload='alert(1)'/>"}},
        {"x.html": {"text/html": "<script>alert(1)</script>"}},
        {"x.png": {"image/png": "no base64 <script>"}},
        {"x.png": {"image/png": "A" * (LARGEST + 4)}},
        {"x.png": {"image/png": 7}},
        {"x.png": {"image/jpeg": DOT}},
        {"x.png": {"image/png": base64.b64encode(base64.b64decode(DOT)[:16] + b"\x00\x00\xff\xff" * 2).decode()}},
        {"x.png": None},
    ],
)
def test_what_is_no_picture_is_left_out_and_said(attachments):
    rebuilt = rebuild(Master.read(released(NAME)), handed_in("", attachments))
    assert rebuilt.pictures == {}
    assert any("no picture that can be shown" in said for said in rebuilt.said)


def test_name_of_a_picture_is_made_fit_to_be_shown():
    rebuilt = rebuild(Master.read(released(NAME)), handed_in("", {"\ud800\x1b[2J.png": GOOD["d.png"], "\ud800\x07": 7}))
    assert list(rebuilt.pictures[CELL]) == ["?�[2J.png"]
    assert "\ud800" not in " ".join(rebuilt.said)


@pytest.mark.parametrize(
    ("kind", "more"),
    [("png", {}), ("gif", {}), ("jpeg", {}), ("jpeg", {"progressive": True, "comment": b"x" * 300}), ("webp", {}),
     ("webp", {"lossless": True}), ("webp", {"exif": b"Exif\0\0x"})],
)  # fmt: skip
def test_size_is_read_from_the_file_as_a_library_wrote_it(kind, more):
    made = base64.b64decode(picture(kind, (517, 301), **more))
    assert size_of(f"image/{kind}", made) == (517, 301)
    assert [size_of(f"image/{kind}", made[:cut]) for cut in (0, 3, 9)] == [None] * 3
    assert size_of("image/gif" if kind != "gif" else "image/png", made) is None


@pytest.mark.parametrize("odd", [[], "text", 7, None])
def test_attachments_of_odd_types_harm_nothing(odd):
    assert rebuild(Master.read(released(NAME)), handed_in("", odd)).pictures == {}


@pytest.mark.parametrize(
    "hostile",
    [
        "<script>alert(1)</script>", "<img src=x onerror=alert(1)>", "<!-- --><svg/onload=alert(1)>", "[l](javascript:alert(1))",
        "[l]: javascript:alert(1)\n\n[l]", "[l][r]\n\n[r]: javascript:alert(1)", "<javascript:alert(1)>",
        "![x](javascript:alert(1))", "![x](http://127.0.0.1/seen.png)", '![a"onerror="alert(1)](attachment:d.png)',
        '![x](attachment:d.png"onerror="alert(1))', "![x](attachment:missing.png)", "$$\\href{javascript:alert(1)}{x}$$",
        "[![x](attachment:d.png)](javascript:alert(1))", '$\\mmlToken{mi}[href="javascript:alert(1)"]{x}$', "$\\rule{900em}{900em}$",
        "$\\def\\x#1{\\csname hr#1\\endcsname}$", "http://127.0.0.1/seen", "\u202epp\x1b[2J\x9b",
    ],
)  # fmt: skip
def test_markup_of_the_student_has_no_effect(hostile):
    html = markdown2html_mistune(harmless(hostile, {}))
    tags = ("<script", "<img", "<svg", "<a ", 'onerror="', "\u202e", "\x1b")
    for bad in (*tags, "\\href", "\\mml", "\\rule", "\\def", "\\csname"):
        assert bad not in html, html


def test_prose_and_formulas_stay_as_they_were():
    text = "B lies **left**: $x<2$, $a_{[1]} < b$, 3 < 4 & `code[0]`\n\n* a point"
    assert harmless(text, {}) == text


def test_command_sets_both_side_by_side(tmp_path):
    stock.scratch_course(COURSE, NAME, tmp_path)
    release = tmp_path / "release" / NAME / f"{NAME}.ipynb"
    release.parent.mkdir(parents=True)
    release.write_text(released(NAME))
    place = tmp_path / "submitted" / "ab123" / NAME / f"{NAME}.ipynb"
    place.parent.mkdir(parents=True)
    place.write_bytes(handed_in("I drew <b>this</b>", GOOD))
    torn = tmp_path / "submitted" / "torn" / NAME / f"{NAME}.ipynb"
    torn.parent.mkdir(parents=True)
    for name in ("javascript:alert(1)", "turns\x1b[2J"):  # the second can't be an id
        shutil.copytree(torn.parents[1], tmp_path / "submitted" / name)
    torn.write_text("{")
    done = CliRunner().invoke(cli, ["by-hand", NAME, "--course", str(tmp_path)])
    assert (done.exit_code, "3 pages are in" in done.output) == (0, True), done.output
    page = (tmp_path / "by-hand" / NAME / "ab123.html").read_text()
    assert "I drew &lt;b&gt;this&lt;/b&gt;" in page
    assert f'src="data:image/png;base64,{DOT}"' in page
    assert "<svg" in page
    assert 'href="./javascript%3Aalert%281%29.html"' in (tmp_path / "by-hand" / NAME / "index.html").read_text()
    assert "Nothing was handed in." in (tmp_path / "by-hand" / NAME / "torn.html").read_text()
    refused = CliRunner().invoke(cli, ["by-hand", "velocity", "--course", str(tmp_path)])
    assert "nothing in velocity is marked by hand" in refused.output
