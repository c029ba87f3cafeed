"""Rebuild a script from the master: its cells in its order, and of what was handed in only the text of answers.

Whatever was done to the notebook otherwise (cells deleted, doubled, renamed, unlocked, given other points) has no effect
and is said in the report.
"""

from __future__ import annotations

import json
import re
from dataclasses import dataclass, field

from . import attached

LONGEST, LONGEST_OWN = 100_000, 500_000  # characters of one cell; of all cells of a student's own together
MOST_CELLS = 5000
MOST_BRACKETS = 2_000_000  # in a file: an empty table takes thirty times its room in memory
QUESTION = re.compile(r"""\s*paper\.mark\(["'](\w+)["']\)\s*""")
LOOK = re.compile(r"""\s*paper\.look_over\(["']\w+["']\)\s*""")


class BrokenNotebook(ValueError):
    """What was handed in is no notebook; the message says it to the student."""


@dataclass(frozen=True)
class Cell:
    """A cell of the master.

    `role` is "text", "locked", "answer", "graded" (marked by linkkit) or "by-hand" (marked by a person).
    """

    name: str
    role: str
    source: str
    code: bool
    points: float = 0.0
    question: str = ""


@dataclass(frozen=True)
class Master:
    """The released notebook: its cells, and the whole of it as it stands in the file."""

    cells: tuple[Cell, ...]
    notebook: dict = field(repr=False)

    @classmethod
    def read(cls, text: str) -> Master:
        """From the text of the released notebook."""
        notebook = json.loads(text)
        return cls(tuple(_cell(cell) for cell in notebook["cells"]), notebook)

    def roles(self, *wanted: str) -> dict[str, Cell]:
        """The cells of some roles, by name."""
        return {cell.name: cell for cell in self.cells if cell.role in wanted}


@dataclass(frozen=True)
class Rebuilt:
    """A student's answers by the name of the cell, cells of their own by the name of the one before, what there is to
    say, and the pictures in cells that a person marks, in the form of a notebook's attachments."""

    answers: dict[str, str]
    own: dict[str, list[str]] = field(default_factory=dict)
    said: tuple[str, ...] = ()
    pictures: dict[str, dict[str, dict[str, str]]] = field(default_factory=dict)


def _cell(cell: dict) -> Cell:
    about = cell["metadata"].get("nbgrader", {})
    source, points = text_of(cell["source"]), float(about.get("points", 0))
    found = QUESTION.fullmatch(source) if about.get("grade") and not about.get("solution") else None
    if found:
        role = "graded"
    elif about.get("grade") or about.get("task"):
        role = "by-hand"
    elif about.get("solution"):
        role = "answer"
    else:
        role = "text" if cell["cell_type"] != "code" else "locked"
    name = about.get("grade_id") or cell["id"]
    return Cell(name, role, source, cell["cell_type"] == "code", points, found[1] if found else "")


def text_of(source) -> str | None:
    """A cell's text, which a file may hold as one string or as lines; None if it is neither."""
    if isinstance(source, list) and all(isinstance(line, str) for line in source):
        source = "".join(source)
    return source if isinstance(source, str) else None


def rebuild(master: Master, handed_in: bytes) -> Rebuilt:
    """The answers in a notebook that was handed in.

    Raises
    ------
    BrokenNotebook
        If it is no notebook at all.
    """
    cells = _cells_of(handed_in)
    named = [(cell, _name(cell, master)) for cell in cells]
    said: list[str] = []
    answers = {cell.name: _answer(cell, [c for c, n in named if n == cell.name], said)
               for cell in master.roles("answer", "by-hand").values()}  # fmt: skip
    drawn = {
        name: attached.pictures(name, [c for c, n in named if n == name], said) for name in master.roles("by-hand")
    }
    _look_at_locked(master, named, said)
    return Rebuilt(
        answers, _own_cells(named, said), tuple(said), {name: found for name, found in drawn.items() if found}
    )


def _cells_of(handed_in: bytes) -> list[dict]:
    if handed_in.count(b"{") + handed_in.count(b"[") > MOST_BRACKETS:
        raise BrokenNotebook(
            "The file holds too many tables and lists to be a notebook. Clear its outputs, hand in again."
        )
    try:
        notebook = json.loads(handed_in.decode("utf-8-sig"))
    except UnicodeDecodeError:
        raise BrokenNotebook("The file is not in UTF-8, so it is no notebook.") from None
    except RecursionError:
        raise BrokenNotebook("The file is nested too deeply to be a notebook.") from None
    except ValueError as error:
        where = f" (line {error.lineno})" if isinstance(error, json.JSONDecodeError) else ""
        raise BrokenNotebook(f"The file is damaged: it is no complete JSON{where}. Hand it in again.") from None
    cells = notebook.get("cells") if isinstance(notebook, dict) else None
    if not isinstance(cells, list):
        raise BrokenNotebook(
            "The file has no cells, or is in an old format. Open it in JupyterLab, save it, hand in again."
        )
    if len(cells) > MOST_CELLS:
        raise BrokenNotebook(f"The file has {len(cells)} cells; at most {MOST_CELLS} are looked at.")
    return [cell for cell in cells if isinstance(cell, dict)]


def _name(cell: dict, master: Master) -> str:
    """Which cell of the master a cell is: by its id, else by nbgrader's name for it; or none."""
    known = {c.name for c in master.cells}
    about = cell.get("metadata")
    about = about.get("nbgrader") if isinstance(about, dict) else None
    claimed = about.get("grade_id") if isinstance(about, dict) else None
    return next((name for name in (cell.get("id"), claimed) if isinstance(name, str) and name in known), "")


def _answer(cell: Cell, claiming: list[dict], said: list[str]) -> str:
    """The student's text of one answer cell, and what is odd about it."""
    if not claiming:
        said.append(f"The answer cell “{cell.name}” is missing; it counts as empty.")
        return ""
    chosen = next((c for c in claiming if c.get("id") == cell.name), claiming[0])
    if len(claiming) > 1:
        said.append(f"There are {len(claiming)} cells called “{cell.name}”; only the original one counts.")
    text = text_of(chosen.get("source"))
    if text is None:
        said.append(f"The text of the cell “{cell.name}” can't be read; it counts as empty.")
        return ""
    if chosen.get("cell_type") != ("code" if cell.code else "markdown"):
        said.append(f"The cell “{cell.name}” was made another type of cell; it is read as what it was.")
    if len(text) > LONGEST:
        said.append(f"The cell “{cell.name}” has {len(text)} characters, more than {LONGEST}; it counts as empty.")
        return ""
    return text


def _look_at_locked(master: Master, named: list[tuple[dict, str]], said: list[str]) -> None:
    """Say which cells of ours were deleted, doubled or changed; the master's are used in any case."""
    handed = {name: [c for c, n in named if n == name] for name in {n for _, n in named}}
    deleted = [name for name in master.roles("graded", "locked") if name not in handed]
    doubled = [name for name in master.roles("graded", "locked") if len(handed.get(name, ())) > 1]
    changed = [name for name, cell in master.roles("graded", "locked").items()
               if name in handed and any(text_of(c.get("source")) != cell.source for c in handed[name])]  # fmt: skip
    for what, names in (("were deleted", deleted), ("were doubled", doubled), ("were changed", changed)):
        if names:
            shown = ", ".join(names[:5]) + (" and more" if len(names) > 5 else "")
            said.append(f"Cells that are not for answers {what} ({shown}); the original ones were used.")


def _own_cells(named: list[tuple[dict, str]], said: list[str]) -> dict[str, list[str]]:
    """Code cells that the student added, by the name of the cell of ours that they stand behind."""
    own: dict[str, list[str]] = {}
    behind, room, left_out = "", LONGEST_OWN, 0
    for cell, name in named:
        behind = name or behind
        text = text_of(cell.get("source"))
        if not name and cell.get("cell_type") == "code" and text and text.strip():
            if len(text) <= min(room, LONGEST):
                own.setdefault(behind, []).append(text)
                room -= len(text)
            else:
                left_out += 1
    if left_out:
        said.append(f"Cells of your own were too long to be run, alone or all together: {left_out} of them.")
    return own
