"""Every notebook keeps the rhythm, and the script notices one that does not."""

import nbformat
import pytest

from rhythm import all_notebooks, main, measure

OPENING = "# A title\n\n" + "word " * 120


def test_there_are_notebooks():
    assert all_notebooks()


@pytest.mark.parametrize("path", all_notebooks(), ids=lambda path: path.stem)
def test_notebook_keeps_the_rhythm(path):
    assert measure(path).faults == ()


def written(folder, *cells):
    """A notebook of the given cells: text that starts with `#` or a capital is prose."""
    v4 = nbformat.v4
    made = [(v4.new_markdown_cell if c[0].isupper() or c[0] == "#" else v4.new_code_cell)(c) for c in cells]
    nbformat.write(v4.new_notebook(cells=made), folder / "made.ipynb")
    return folder / "made.ipynb"


def test_a_good_notebook_passes(tmp_path):
    path = written(tmp_path, OPENING, "import linkkit as lk", "Now.", "x = 1", "Then.", "x + 1")
    assert measure(path).faults == ()
    assert main([path]) == 0


@pytest.mark.parametrize(
    ("cells", "fault"),
    [
        (["No title. " + "word " * 120, "import math"], "title"),
        (["# Short", "import math"], "words before"),
        (["# Long\n" + "word " * 351, "import math"], "words before"),
        ([OPENING, "x = 1"], "imports stand"),
        ([OPENING, "import math\nx = 1"], "imports stand"),
        ([OPENING, "import math", "More.", "import cmath"], "imports stand"),
        ([OPENING, "import math", "x = 1"], "no prose"),
        ([OPENING, "import math", "More.", "x = 1\n" * 16], "16 lines"),
        ([OPENING, "import math", "A.", "x = 1\n" * 4, "B.", "x = 1\n" * 4], "half of the code"),
        ([OPENING, "import math", "A.", "def f(): 1\ndef g(): 2"], "two functions"),
        ([OPENING, "import math", "A.", "%pip install x"], "installs"),
    ],
)
def test_a_fault_is_named(tmp_path, cells, fault):
    path = written(tmp_path, *cells)
    assert any(fault in found for found in measure(path).faults)
    assert main([path]) == 1


LESSON = 'predict("?", key="00/a", then=lambda: animation(x))\nexplain("?", key="00/b")\npractice("c")\nmy_record("00")'


@pytest.mark.parametrize(
    ("code", "fault"),
    [
        (LESSON, "still"),
        (LESSON.replace("predict", "asked"), "no call of predict"),
        (LESSON.replace("predict", "asked"), "animation without a prediction"),
        (LESSON + "\nexplore(x)", "explore without a prediction"),
        (LESSON.replace("explain", "print"), "no call of explain"),
        (LESSON.replace("practice", "print"), "no call of practice"),
        (LESSON.replace("my_record", "print"), "no call of my_record"),
    ],
)
def test_what_a_lesson_lacks_is_named(tmp_path, code, fault):
    path = written(tmp_path, OPENING, "import math", "A.", code)
    path = path.rename(tmp_path / "00 Made.ipynb")
    assert any(fault in found for found in measure(path).faults)


def test_a_stored_picture_is_a_fault(tmp_path):
    path = written(tmp_path, OPENING, "import math", "A.", "x")
    book = nbformat.read(path, as_version=4)
    book.cells[3].outputs = [nbformat.v4.new_output("display_data", {"image/png": "AAAA"})]
    nbformat.write(book, path)
    assert "rich output" in " ".join(measure(path).faults)
