"""Scripts of invented students (tests/scripts) read, and run as nbgrader runs them but in this process."""

from pathlib import Path

from linkkit.coursework import find_assignment
from linkkit.coursework.release import build_assignment
from linkkit.marking.scripts import model_cells

SCRIPTS = Path(__file__).parents[1] / "scripts"


def cells_of(path):
    """The answer cells of a script file: the text below each ``# %% name``.

    A line ``# brings: name`` stands for the text of scripts/brought/name.py.
    """
    cells, name = {}, None
    for line in path.read_text(encoding="utf-8").splitlines(keepends=True):
        if line.startswith("# %% "):
            name = line[5:].strip()
            cells[name] = ""
        elif name and line.startswith("# brings: "):
            cells[name] += (SCRIPTS / "brought" / f"{line[10:].strip()}.py").read_text(encoding="utf-8")
        elif name:
            cells[name] += line
    return cells


def header(path):
    """The marks that a script file says it deserves, as it is written there."""
    words = path.read_text(encoding="utf-8").splitlines()
    return next(line.removeprefix("# mark: ") for line in words if line.startswith("# mark: "))


def stands_alone(path):
    """Is nothing handed in but what the file says?"""
    return "# only these cells" in path.read_text(encoding="utf-8")


def handed_in(path):
    """All answer cells: those of the file, and for the rest those of right.py, else the model answers.

    A file that says so stands alone.
    """
    if stands_alone(path):
        return cells_of(path)
    return model_cells(find_assignment(path.parent.name)) | cells_of(path.parent / "right.py") | cells_of(path)


def run(assignment, cells, student_id):
    """Run the released notebook with a student's cells; the Marked of each graded cell, by name.

    An error in one cell does not stop the next, as in nbgrader.
    """
    namespace, marked = {"__name__": "__main__"}, {}
    for cell in build_assignment(assignment).cells:
        about, source = cell.metadata.nbgrader, cell.source
        if about.solution:
            source = cells.get(cell.id, source.partition("### BEGIN SOLUTION")[0])
        if cell.id == "your-id":
            source = cells.get(cell.id, 'student_id = "{student}"').replace("{student}", student_id)
        if about.grade and not about.solution:
            marked[cell.id] = eval(source, namespace)
        elif cell.cell_type == "code":
            attempt(source, namespace)
    return marked


def attempt(source, namespace):
    """Run one cell; its errors are the student's."""
    try:
        exec(compile(source, "a cell", "exec"), namespace)
    except (Exception, SystemExit) as error:
        namespace["last_error"] = error
