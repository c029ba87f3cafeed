"""The rhythm of the notebooks, as a table: `uv run python tests/house/rhythm.py [NOTEBOOK ...]`.

A notebook opens with a title and 100 to 350 words, then comes one cell of imports; code cells are short, with
prose between any two; nothing is installed, and no output but text is stored. A lesson (its name begins with two
digits) moves nothing before a prediction is recorded, asks for an explanation, has questions to practise, shows the
student's record, and leaves key frames behind for when nothing runs. Exits with 1 if a notebook is outside.
"""

import ast
import json
import re
import sys
from dataclasses import dataclass
from pathlib import Path
from statistics import median

NOTEBOOKS = Path(__file__).parents[2] / "notebooks"
OPENING_WORDS = range(100, 351)
MEDIAN_LINES, MOST_LINES = 3, 15


@dataclass(frozen=True)
class Rhythm:
    """What was counted in one notebook, and what is wrong with it."""

    name: str
    opening_words: int
    code_cells: int
    median_lines: float
    most_lines: int
    faults: tuple


def measure(path):
    """Count one notebook's cells and words."""
    cells = json.loads(path.read_text(encoding="utf-8"))["cells"]
    codes = [source(cell) for cell in cells if cell["cell_type"] == "code"]
    lengths = [len([line for line in code.splitlines() if line.strip()]) for code in codes] or [0]
    opening = opening_text(cells)
    return Rhythm(
        name=path.name,
        opening_words=len(words(opening)),
        code_cells=len(codes),
        median_lines=median(lengths),
        most_lines=max(lengths),
        faults=(*faults(cells, codes, lengths, opening), *(lesson_faults(cells, codes) if is_lesson(path) else ())),
    )


def source(cell):
    return "".join(cell["source"])


def opening_text(cells):
    """All prose before the first code cell."""
    first = next((i for i, cell in enumerate(cells) if cell["cell_type"] == "code"), len(cells))
    return "\n".join(source(cell) for cell in cells[:first])


def words(text):
    """The words a reader sees: no pictures, no addresses of links, no markup."""
    seen = re.sub(r"!\[[^\]]*\]\([^)]*\)|<[^>]+>|\]\([^)]*\)", " ", text)
    return re.findall(r"[^\W\d_][\w'’-]*", seen)


def faults(cells, codes, lengths, opening):
    """What is outside the bounds, a sentence each."""
    if not opening.lstrip().startswith("# "):
        yield "does not open with a title"
    if len(words(opening)) not in OPENING_WORDS:
        yield f"{len(words(opening))} words before the first code cell, not 100 to 350"
    yield from import_faults(codes)
    if median(lengths) > MEDIAN_LINES:
        yield f"half of the code cells are over {MEDIAN_LINES} lines"
    if max(lengths) > MOST_LINES:
        yield f"a code cell of {max(lengths)} lines, over {MOST_LINES}"
    yield from cell_faults(cells)


def import_faults(codes):
    """One cell of imports, and that first."""
    importing = [i for i, code in enumerate(codes) if kinds(code) & {"Import", "ImportFrom"}]
    if importing != [0] or not kinds(codes[0]) <= {"Import", "ImportFrom"}:
        yield f"imports stand in code cells {[i + 1 for i in importing]}, not alone in the first"


def kinds(code):
    """The kinds of statement that a code cell holds, functions looked into."""
    return {type(node).__name__ for node in statements(code)}


def statements(code):
    """A cell's statements; lines for IPython itself are left out."""
    plain = "\n".join(line for line in code.splitlines() if not line.lstrip().startswith(("%", "!")))
    return ast.parse(plain).body


def cell_faults(cells):
    """Prose between any two code cells, one function a cell, no installers, no stored pictures."""
    for before, cell in zip([None, *cells], cells, strict=False):
        if cell["cell_type"] != "code":
            continue
        start = next(iter(source(cell).strip().splitlines()), "(empty)")
        if before is None or before["cell_type"] == "code":
            yield f"no prose before the cell `{start}`"
        if sum(isinstance(node, ast.FunctionDef | ast.ClassDef) for node in statements(source(cell))) > 1:
            yield f"two functions in the cell `{start}`"
        if re.search(r"(?m)^\s*[%!]\s*(pip|uv|conda|apt)", source(cell)):
            yield f"the cell `{start}` installs something"
        if any(set(output.get("data", {})) - {"text/plain"} for output in cell["outputs"]):
            yield f"the cell `{start}` has a rich output stored"


def is_lesson(path):
    return re.match(r"\d\d ", path.name) is not None


def lesson_faults(cells, codes):
    """What a lesson lacks, and what moves in it before a prediction."""
    called = {name for code in codes for node in statements(code) for name, _ in calls(node)}
    for wanted in ("predict", "explain", "practice", "my_record"):
        if wanted not in called:
            yield f"no call of {wanted}"
    if not any(cell.get("id") == "still" for cell in cells):
        yield "no cell `still` with key frames (tests/house/stills.py)"
    for code in codes:
        moving = {name for node in statements(code) for name, inside in calls(node) if "predict" not in inside}
        for name in sorted(moving & {"animation", "explore"}):
            yield f"{name} without a prediction in the cell `{code.splitlines()[0]}`"


def calls(node, inside=()):
    """The names of the functions called in a statement, each with those round it."""
    if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
        yield node.func.id, inside
        inside = (*inside, node.func.id)
    for child in ast.iter_child_nodes(node):
        yield from calls(child, inside)


def all_notebooks():
    return sorted(path for path in NOTEBOOKS.rglob("*.ipynb") if ".ipynb_checkpoints" not in path.parts)


def table(measured):
    """The counts of all notebooks as a table to print."""
    from rich.table import Table

    shown = Table(title="Rhythm of the notebooks")
    for heading in (
        "notebook",
        "opening words",
        "code cells",
        "median lines",
        "most lines",
        "outside the bounds",
    ):
        shown.add_column(heading, justify="left" if heading[0] in "no" and "words" not in heading else "right")
    for one in measured:
        counts = (one.opening_words, one.code_cells, one.median_lines, one.most_lines)
        shown.add_row(one.name, *map(str, counts), "\n".join(one.faults) or "-")
    return shown


def main(arguments):
    from rich.console import Console

    measured = [measure(Path(path)) for path in arguments or all_notebooks()]
    Console().print(table(measured))
    return 1 if any(one.faults for one in measured) or not measured else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
