"""Questions to practise on: fresh numbers for every try, and no marks that count.

The questions are those of the bank. Their numbers come from the number of the set, so that set 7 of a question is the
same for everybody, and never that of a marked assignment.
"""

from __future__ import annotations

from .bank import (
    boatshed_chain,
    brine_lift,
    first_steps,
    ice_chopper,
    inversions,
    lamp_turner,
    net_shaker,
    net_shaker_limits,
    quay_machines,
    quick_returns,
    rope_guide,
)
from .givens import Givens
from .question import Assignment, Question

SHELF = Assignment(
    id="practice",
    title="Practice",
    opening="As many sets of numbers as you like. Nothing here is marked.",
    settings=(
        *first_steps.SETTINGS,
        *quay_machines.SETTINGS,
        net_shaker.SETTING,
        lamp_turner.LAMP_TURNER,
        lamp_turner.HATCH_CLOSER,
        ice_chopper.SETTING,
        *quick_returns.SETTINGS,
        boatshed_chain.SETTING,
        *inversions.SETTINGS,
        brine_lift.SETTING,
        *rope_guide.SETTINGS,
    ),
    questions=(
        *first_steps.QUESTIONS,
        *quay_machines.QUESTIONS,
        *net_shaker.QUESTIONS,
        *net_shaker_limits.QUESTIONS,
        *lamp_turner.QUESTIONS,
        *ice_chopper.QUESTIONS,
        *quick_returns.QUESTIONS,
        *boatshed_chain.QUESTIONS,
        *inversions.QUESTIONS,
        *brine_lift.QUESTIONS,
        *rope_guide.QUESTIONS,
    ),
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


def numbers(question: Question, set_number: int) -> Givens:
    """The numbers of one set: the same for everybody and at any time.

    Examples
    --------
    >>> numbers(find("swing"), 7).plain() == numbers(find("swing"), 7).plain()
    True
    """
    return SHELF.givens(question.setting, f"{question.id}, set {set_number}")
