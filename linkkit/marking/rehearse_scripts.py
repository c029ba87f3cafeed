"""The scripts of a rehearsal: every known wrong answer of every question, right ones, broken ones, hostile ones."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import cycle, islice

from ..coursework.answers import Function
from ..coursework.question import Assignment, Question
from .scripts import (
    BROKEN,
    ID_CELL,
    Script,
    all_wrong,
    answer_cell,
    meets,
    model_cells,
    right,
    wrong,
)

ENOUGH = 400  # ids of which one must be able to go wrong in a known way; else it is said that none did

# what a hostile student writes in place of one answer; that answer is lost, and nothing else
HOSTILE = {
    "ends the process": "import os\nos._exit(0)",
    "runs for ever": "while True:\n    pass",
    "wants all memory": "much = [bytearray(10**9) for _ in range(100)]",
    "looks for the key": "print(open('../../course.key').read())",
    "looks for the gradebook": "import glob\nprint(open(glob.glob('/**/gradebook.db', recursive=True)[0], 'rb').read(99))",
    "goes to the network": "import socket\nsocket.create_connection(('127.0.0.1', 80), timeout=2)",
    "starts a program": "import subprocess\nsubprocess.run(['ls', '/'], check=True)",
    "gives itself marks": "paper.mark = lambda question: 99\npaper.look_over = print",
}


@dataclass(frozen=True)
class Cast:
    """The scripts of a rehearsal; the known wrong answers that no id came to ("question: code"); those left for want of ids."""

    scripts: tuple[Script, ...]
    untried: tuple[str, ...] = ()
    left: int = 0


def needed(paper: Assignment) -> int:
    """How many ids a rehearsal takes that leaves nothing out: each wrong answer, each way to be broken, two right."""
    return len(all_wrong(paper)) + len(BROKEN) + 2


def cast(paper: Assignment, ids: int | None = None, hostile: bool = False) -> Cast:
    """Scripts for so many ids, or for as many as it takes to leave nothing out.

    The first are right and broken, then comes every known wrong answer, each with an id whose numbers can lead to it; if
    there are ids left they go round again.
    """
    wanted = needed(paper) if ids is None else ids
    names, waiting, scripts = _ids(), [*all_wrong(paper)], []
    first = [right, *BROKEN, right]
    for make, student in zip(first, islice(names, min(len(first), wanted)), strict=False):
        scripts.append(make(paper, student))
    untried = [] if len(scripts) == wanted else _each_once(paper, waiting, names, wanted, scripts)
    again = cycle([*all_wrong(paper), None])
    for student in islice(names, max(0, wanted - len(scripts))):
        found = next(again)
        scripts.append(right(paper, student) if found is None else wrong(paper, student, *found))
    left = len(waiting)
    scripts += list(_hostile(paper, names)) if hostile else []
    return Cast(tuple(scripts), tuple(f"{q.id}: {known.code}" for q, known in untried), left)


def _each_once(paper: Assignment, waiting: list, names: Iterator[str], wanted: int, scripts: list[Script]) -> list:
    """Take from `waiting` what an id can come to, id by id; what none of many ids could come to is returned."""
    for student in islice(names, ENOUGH):
        if not waiting or len(scripts) == wanted:
            return []
        found = next((pair for pair in waiting if meets(paper, *pair, student)), None)
        if found:
            waiting.remove(found)
            scripts.append(wrong(paper, student, *found))
    impossible, waiting[:] = list(waiting), []
    return impossible


def _hostile(paper: Assignment, names: Iterable[str]) -> Iterator[Script]:
    """One of each kind; the rest of their answers are right."""
    target = next((q for q in paper.questions if not q.marked_by_hand and not isinstance(q.kind, Function)), None)
    if target is None:
        return
    for (fault, code), student in zip(HOSTILE.items(), names, strict=False):
        cells = {ID_CELL: f'student_id = "{student}"\n'} | model_cells(paper) | {answer_cell(target): code + "\n"}
        yield Script(student, fault, round(paper.marks_by_machine - target.marks, 2), cells)


def expected(paper: Assignment, script: Script) -> dict[str, float]:
    """The marks that a script deserves, by question; the one that is spoilt has lost what the script lacks."""
    asked = [q for q in paper.questions if not q.marked_by_hand]
    model = model_cells(paper)
    spoilt = [q for q in asked if _spoilt(q, script, model)]
    lost = round(paper.marks_by_machine - script.expected, 2)
    if len(spoilt) == 1:
        return {q.id: round(q.marks - (lost if q in spoilt else 0), 2) for q in asked}
    return {q.id: 0.0 if q in spoilt else q.marks for q in asked}


def _spoilt(question: Question, script: Script, model: dict[str, str]) -> bool:
    cell = answer_cell(question)
    return cell in script.deleted or script.cells.get(cell) != model[cell]


def _ids() -> Iterator[str]:
    """Ids that no student has."""
    return (f"quay{n:04d}" for n in range(1, 1_000_000))
