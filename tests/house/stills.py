"""Write the picture that each lesson leaves when nothing runs: `uv run python tests/house/stills.py [NOTEBOOK ...]`.

It stands in the Markdown cell whose id is `still`, folded so that nobody sees the motion before the prediction: key
frames as an attachment, their words, and a table. Nothing of it is typed by hand.
"""

import json
import sys

import linkkit as lk
from linkkit.design import Sketch
from linkkit.workbook import still
from rhythm import all_notebooks, source

CELL = "still"


def level_hoist():
    """The hoist with its tray made level, as lesson 12 finds it: the pin F where it makes a parallelogram."""
    return Sketch(lk.machine("crate-hoist"), {"F": 0.05}).build(**{"F.x": 1.440, "F.y": 1.390})


MOTIONS = {  # lesson: what moves, and the points whose paths are drawn
    "00": (lambda: lk.machine("net-shaker"), "B"),
    "01": (lambda: lk.machine("brine-lift"), "BHK"),
    "02": (lambda: lk.four_bar(0.40, 0.12, 0.35, 0.25), "B"),
    "03": (lambda: lk.machine("ice-chopper"), "A"),
    "04": (lambda: lk.four_bar(0.40, 0.12, 0.35, 0.25).with_fixed("crank"), "BQ"),
    "05": (lambda: lk.machine("crate-hoist"), "T"),
    "06": (lambda: lk.machine("rope-guide"), ""),
    "07": (lambda: lk.machine("rope-guide"), "P"),
    "08": (lambda: lk.machine("net-shaker"), "B"),
    "09": (lambda: lk.machine("ice-chopper"), ""),
    "10": (lambda: lk.machine("ice-chopper"), ""),
    "11": (lambda: lk.machine("crate-hoist"), "R"),
    "12": (level_hoist, "T"),
}


def still_of(path):
    """The key frames and the table of a lesson, or None for a notebook that has none."""
    motion = MOTIONS.get(path.name[:2])
    return motion and still(motion[0](), paths=tuple(motion[1]))


def still_cell(path):
    """The cell of a notebook that holds them."""
    cells = json.loads(path.read_text(encoding="utf-8"))["cells"]
    return next((cell for cell in cells if cell.get("id") == CELL), None)


def write(path):
    """Put them into the notebook; True if that changed its picture, its words or its table."""
    book, left = json.loads(path.read_text(encoding="utf-8")), still_of(path)
    cell = next(cell for cell in book["cells"] if cell.get("id") == CELL)
    if source(cell) == left.folded() and cell.get("attachments") == left.attachment():
        return False
    cell["attachments"], cell["source"] = left.attachment(), left.folded().splitlines(keepends=True)
    path.write_text(json.dumps(book, indent=1, ensure_ascii=False) + "\n", encoding="utf-8")
    return True


def main(arguments):
    for path in all_notebooks():
        if path.name[:2] in MOTIONS and (not arguments or str(path) in arguments):
            print("written:" if write(path) else "as it was:", path.name)


if __name__ == "__main__":
    main(sys.argv[1:])
