"""Write the notebook of an assignment, in nbgrader's form, from its questions.

Statements, marks, tolerances and stubs all come from the questions, so they cannot differ from what is
marked.
"""

from __future__ import annotations

from pathlib import Path
from textwrap import indent

from .answers import Function
from .paper import find_assignment
from .papers import OUTLINES
from .question import Assignment, Question

SCHEMA = 3  # of nbgrader's cell metadata
OPENING = """# {title}

{opening}

**{marks:g} marks.** Run the cells from the top. Where a cell asks for your answer, change only that cell. Cells that you add
yourself, for a helping function say, are run where they stand when this is marked; no answer is looked for in them,
and changes to any other cell are undone. Write a number as text with its unit, `"12.5 deg"`, or as a pair, `(12.5, "deg")`.
Below each answer a cell looks it over: it says
how your answer is read
and whether its form is in order, not whether it is right. The cells that give marks are already there; they
do their work
after you have handed in. A part that you leave out costs only its own marks."""
YOUR_ID = """## Your numbers

Everybody has their own numbers, drawn from the student id. Type yours exactly as it stands on your student
record: with
another id the numbers are another student's, and the answers wrong for you."""
OWN_CODE = "Own code: the package of this course cannot be imported when this is marked."
SOLUTION = "### BEGIN SOLUTION\n{}\n### END SOLUTION"


def build_assignment(name: str):
    """The source notebook of an assignment as an nbformat node; the same every time."""
    import nbformat.v4 as v4

    assignment = find_assignment(name)
    cells = [*_opening(assignment)]
    for setting in assignment.settings:
        cells += [
            _text(f"{setting.id}-story", f"## {setting.title}\n\n{setting.story}"),
            _locked(
                f"{setting.id}-numbers",
                f'{_variable(setting.id)} = paper.numbers("{setting.id}")\n{_variable(setting.id)}',
            ),
        ]
        if code := getattr(setting, "code", ""):  # a machine of the lecturer's own, with the student's numbers
            cells.append(_locked(f"{setting.id}-machine", code))
        for question in assignment.asked_on(setting.id):
            cells += _asked(question, assignment.questions.index(question) + 1)
    kernel = {"display_name": "Python 3 (ipykernel)", "language": "python", "name": "python3"}
    return v4.new_notebook(cells=cells, metadata={"kernelspec": kernel, "language_info": {"name": "python"}})


def write_assignment(name: str, course: Path) -> Path:
    """Write the source notebook into an nbgrader course; the path."""
    import nbformat

    place = course / "source" / name / f"{name}.ipynb"
    place.parent.mkdir(parents=True, exist_ok=True)
    place.write_text(nbformat.writes(build_assignment(name)) + "\n", encoding="utf-8")
    return place


def _opening(assignment: Assignment) -> list:
    set_up = (
        "import numpy as np\n\nimport linkkit as lk\nfrom linkkit.coursework import open_paper\n\n"
        f'paper = open_paper("{assignment.id}", student_id, globals())\npaper'
    )
    your_id = 'student_id = ""   # between the quotes: your student id\n' + SOLUTION.format(
        'student_id = "worked-example"'
    )
    words = OPENING.format(title=assignment.title, opening=assignment.opening, marks=assignment.marks)
    return [
        _text("opening", words),
        _text("about-your-id", YOUR_ID),
        _answer("your-id", your_id),
        _locked("set-up", set_up),
    ]


def _asked(question: Question, number: int) -> list:
    """The cells of one question: statement, answer, look over, marks; or statement and answer, for a tutor."""
    marks = f"{question.marks:g} mark{'s' if question.marks != 1 else ''}"
    own = f" {OWN_CODE}" if question.own_code else ""
    statement = f"### {number}. {question.title} ({marks})\n\n{question.ask}\n\n*{question.kind.sentence()}{own}*"
    name = question.id.replace("_", "-")
    if question.marked_by_hand:
        return [_text(f"{name}-statement", statement), _by_hand(f"{name}-answer", question)]
    return [
        _text(f"{name}-statement", statement),
        _answer(f"{name}-answer", _with_solution(question)),
        _locked(f"{name}-look-over", f'paper.look_over("{question.id}")'),
        _graded(f"{name}-is-{question.claim}", f'paper.mark("{question.id}")', question.marks),
    ]


def _with_solution(question: Question) -> str:
    """The stub, then the model answer as a region that nbgrader cuts out, within the function if any."""
    inside = "    " if isinstance(question.kind, Function) else ""
    return f"{question.kind.stub(question.id)}\n{indent(SOLUTION.format(question.model.strip()), inside)}"


def _variable(setting: str) -> str:
    """The name under which a setting's numbers stand in the notebook."""
    return setting.rpartition("-")[2]


def _nbgrader(name: str, *, grade=False, solution=False, locked=False, points=None) -> dict:
    about = {
        "grade": grade,
        "grade_id": name,
        "locked": locked,
        "schema_version": SCHEMA,
        "solution": solution,
        "task": False,
    }
    return about if points is None else {**about, "points": points}


def _cell(make, name: str, source: str, **about):
    return make(source, id=name, metadata={"nbgrader": _nbgrader(name, **about)})


def _text(name: str, source: str):
    import nbformat.v4 as v4

    return _cell(v4.new_markdown_cell, name, source, locked=True)


def _locked(name: str, source: str):
    import nbformat.v4 as v4

    return _cell(v4.new_code_cell, name, source, locked=True)


def _answer(name: str, source: str):
    import nbformat.v4 as v4

    return _cell(v4.new_code_cell, name, source, solution=True)


def _graded(name: str, source: str, points: float):
    import nbformat.v4 as v4

    return _cell(v4.new_code_cell, name, source, grade=True, locked=True, points=points)


def _by_hand(name: str, question: Question):
    """The cell for prose or a drawing, which a tutor gives marks for."""
    import nbformat.v4 as v4

    source = SOLUTION.format(question.model.strip())
    return _cell(v4.new_markdown_cell, name, source, grade=True, solution=True, points=question.marks)


if __name__ == "__main__":
    import sys

    for written in sys.argv[1:] or OUTLINES:
        print(write_assignment(written, Path("exercises")))
