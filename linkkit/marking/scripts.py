"""Scripts of invented students: right ones, plausible wrong ones with a known fault each, broken ones."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import cycle, islice

from ..coursework.answers import Function, Number
from ..coursework.question import Assignment, Misconception, Question
from ..coursework.verdict import HALF

ID_CELL = "your-id"


@dataclass(frozen=True)
class Script:
    """What one student hands in: the text of some cells, the cells that they deleted, and the mark it deserves."""

    student: str
    fault: str
    expected: float
    cells: dict[str, str]
    deleted: tuple[str, ...] = field(default=())


def answer_cell(question: Question) -> str:
    """The name of the cell in which a question is answered."""
    return f"{question.id.replace('_', '-')}-answer"


def model_cells(assignment: Assignment) -> dict[str, str]:
    """The model answers, by cell."""
    return {answer_cell(q): written(q, q.model) for q in assignment.questions}


def written(question: Question, code: str) -> str:
    """An answer cell with some code in it, below the stub or within the function."""
    inside = "    " if isinstance(question.kind, Function) else ""
    lines = "\n".join(inside + line for line in code.strip().splitlines())
    return f"{question.kind.stub(question.id)}\n{lines}\n"


def misled(assignment: Assignment, question: Question, known: Misconception, student: str) -> str:
    """The answer cell of a student with this misconception and these numbers."""
    if known.script:
        return written(question, known.script)
    givens = assignment.givens(question.setting, student)
    return f"{question.id} = {question.kind.typed(question.wrong(known, givens))!r}\n"


def meets(assignment: Assignment, question: Question, known: Misconception, student: str) -> bool:
    """Does the misconception lead to an answer at all with this student's numbers?"""
    if known.script:
        return True
    wrong = question.wrong(known, assignment.givens(question.setting, student))
    return question.kind.read(question.kind.typed(wrong)).usable


def right(assignment: Assignment, student: str) -> Script:
    """Every answer right."""
    return _script(assignment, student, "right", assignment.marks_by_machine, {})


def wrong(assignment: Assignment, student: str, question: Question, known: Misconception) -> Script:
    """Every answer right but one, which a misconception spoils; right if these numbers leave no room for it."""
    if not meets(assignment, question, known, student):
        return right(assignment, student)
    lost = question.marks - round(known.share * question.marks, 2)
    cell = misled(assignment, question, known, student)
    return _script(
        assignment,
        student,
        f"{question.id}: {known.code}",
        assignment.marks_by_machine - lost,
        {answer_cell(question): cell},
    )


def _script(assignment, student, fault, expected, changed, deleted=()) -> Script:
    cells = {ID_CELL: f'student_id = "{student}"\n'} | model_cells(assignment) | changed
    return Script(student, fault, round(expected, 2), cells, deleted)


def all_wrong(assignment: Assignment) -> list[tuple[Question, Misconception]]:
    """Every misconception of every question, the questions in turn so that a few scripts spread over the paper."""
    rows = [[(q, known) for known in q.misconceptions] for q in assignment.questions]
    deepest = max(map(len, rows))
    return [row[k] for k in range(deepest) for row in rows if k < len(row)]


# --- broken scripts: each takes (assignment, student) ----------------------------------------------------------------


def untouched(assignment: Assignment, student: str) -> Script:
    """Only the id is filled in."""
    return Script(student, "untouched", 0.0, {ID_CELL: f'student_id = "{student}"\n'})


def syntax_error(assignment: Assignment, student: str) -> Script:
    """One answer that Python cannot read."""
    q = _machine_marked(assignment)[0]
    return _script(
        assignment, student, "syntax-error", assignment.marks_by_machine - q.marks, {answer_cell(q): f"{q.id} = = 3\n"}
    )


def no_unit(assignment: Assignment, student: str) -> Script:
    """One right value without its unit."""
    q = next((q for q in _numbers(assignment) if q.kind.unit), None)
    if q is None:
        return untouched(assignment, student)
    value = q.kind.show(q.right(assignment.givens(q.setting, student))).split()[0]
    return _script(
        assignment,
        student,
        "no-unit",
        assignment.marks_by_machine - (1 - HALF) * q.marks,
        {answer_cell(q): f"{q.id} = {value}\n"},
    )


def cell_deleted(assignment: Assignment, student: str) -> Script:
    """An answer cell deleted."""
    q = _machine_marked(assignment)[-1]
    script = _script(assignment, student, "cell-deleted", assignment.marks_by_machine - q.marks, {}, (answer_cell(q),))
    return Script(student, script.fault, script.expected, script.cells, script.deleted)


def warns(assignment: Assignment, student: str) -> Script:
    """Everything right, with warnings on the way; they cost nothing."""
    q = next(
        (q for q in _machine_marked(assignment) if not isinstance(q.kind, Function)), _machine_marked(assignment)[0]
    )
    line = "import warnings\nwarnings.warn('a warning of the student's own')\n".replace("student's", "student")
    return _script(
        assignment,
        student,
        "warns",
        assignment.marks_by_machine,
        {answer_cell(q): model_cells(assignment)[answer_cell(q)] + line},
    )


def function_raises(assignment: Assignment, student: str) -> Script:
    """The function asked for stops with an error."""
    q = next((q for q in assignment.questions if isinstance(q.kind, Function)), None)
    if q is None:
        return untouched(assignment, student)
    cell = written(q, "raise ValueError('no idea')")
    return _script(
        assignment, student, "function-raises", assignment.marks_by_machine - q.marks, {answer_cell(q): cell}
    )


def _machine_marked(assignment: Assignment) -> list[Question]:
    return [q for q in assignment.questions if not q.marked_by_hand]


def _numbers(assignment: Assignment) -> list[Question]:
    return [q for q in assignment.questions if isinstance(q.kind, Number)]


BROKEN = (no_unit, syntax_error, cell_deleted, untouched, warns, function_raises)


def invented(assignment: Assignment, students: int) -> Iterator[Script]:
    """Scripts for so many invented ids: a quarter right, a half plausibly wrong, a quarter broken."""
    faults, breaks = cycle(all_wrong(assignment)), cycle(BROKEN)
    for n, student in enumerate(islice(_ids(), students)):
        if n % 4 == 0:
            yield right(assignment, student)
        elif n % 4 == 3:
            yield next(breaks)(assignment, student)
        else:
            yield wrong(assignment, student, *next(faults))


def _ids() -> Iterator[str]:
    """Ids that no student has."""
    n = 0
    while True:
        n += 1
        yield f"quay{n:04d}"
