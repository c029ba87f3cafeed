"""Released notebooks, scripts and whole courses, made in a moment and without nbgrader's commands."""

import json
import re
from functools import lru_cache

from running import SCRIPTS, cells_of

from linkkit.coursework.release import build_assignment
from linkkit.marking.box.cage import Limits
from linkkit.marking.scripts import Script
from linkkit.marking.stock import filled

TINY_LIMITS = Limits(cell_seconds=1.0, total_seconds=8.0, memory=1_000_000_000)


@lru_cache
def released(assignment="four-links"):
    """The text of the released notebook: the source notebook with the model answers cut out."""
    notebook = json.loads(json.dumps(build_assignment(assignment)))
    for cell in notebook["cells"]:
        cell["source"] = re.sub(r"\n *### BEGIN SOLUTION.*?### END SOLUTION", "", cell["source"], flags=re.DOTALL)
    return json.dumps(notebook)


def right_cells():
    """The answer cells of the honest student who is right."""
    return cells_of(SCRIPTS / "four-links" / "right.py")


def filled_in(cells, student, assignment="four-links"):
    """The bytes of a released notebook with these answers."""
    own = {name: text.replace("{student}", student) for name, text in cells.items()}
    return json.dumps(filled(json.loads(released(assignment)), Script(student, "", 0.0, own))).encode()


def hostile_or_right(number):
    """Right answers; of every fourth script one that ends its process in the middle."""
    ends = cells_of(SCRIPTS / "hostile" / "exits.py") if number % 4 == 3 else {}
    return right_cells() | ends
