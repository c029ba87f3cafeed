"""Questions to practise on: fresh numbers for every try, and no marks that count.

The questions are those of the bank. Their numbers come from the number of the set, so that set 7 of a question is the
same for everybody, and never that of a marked assignment.
"""

from __future__ import annotations

from . import bank
from .answers import Function
from .givens import Givens
from .listed import ChainList, Positions
from .question import Assignment, Question
from .written import Written

NOT_HERE = Function, Positions, ChainList, Written  # they are written in cells, not in the fields of a panel

SHELF = Assignment(
    id="practice",
    title="Practice",
    opening="As many sets of numbers as you like. Nothing here is marked.",
    settings=tuple(bank.settings().values()),
    questions=tuple(q for q in bank.questions().values() if not isinstance(q.kind, NOT_HERE)),
)


def find(name: str) -> Question:
    """A question to practise on, by its id.

    Raises
    ------
    ValueError
        With the ids that there are.

    Examples
    --------
    >>> find("swing").title
    'How far does it swing?'
    """
    if name not in SHELF.by_id:
        raise ValueError(f"there is no question {name!r} to practise on; there are {', '.join(SHELF.by_id)}")
    return SHELF.by_id[name]


def numbers(question: Question, set_number, paper: Assignment = SHELF) -> Givens:
    """The numbers of one set, or arrays for a sequence of sets: the same for everybody and at any time.

    Examples
    --------
    >>> numbers(find("swing"), 7).plain() == numbers(find("swing"), 7).plain()
    True
    """
    if isinstance(set_number, int):
        return paper.givens(question.setting, f"{question.id}, set {set_number}")
    return paper.givens(question.setting, [f"{question.id}, set {n}" for n in set_number])
