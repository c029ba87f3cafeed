"""Whatever plain values come out of the sandbox, forged ones among them: each question gets a verdict, and none fails."""

import json
import random

import numpy as np
import pytest

from linkkit.coursework import find_assignment
from linkkit.coursework.marks import mark_paper
from linkkit.coursework.papers import OUTLINES
from linkkit.marking.execution import received
from linkkit.marking.judging import secret_inputs

PLAIN = [
    None, True, 0.0, 1e300, -1e300, 5e-324, "", "nan", "inf deg", "1e999 mm", "1e-999 mm", "9" * 1900, "12 N m m m",
    "5 deg**2", "1 %", "sqrt(" * 60, "x^12^12^12", "1/0", "theta/0", "\x00", "crank", "four-bar", "{0}", "%s", "1,234", "−5 mm",
]  # fmt: skip
MARKED = [
    {key: value} for key in ("not finite", "failed", "not readable") for value in ("nan", None, 3, [], {"a": [1]})
]
WORDS = ("ground", "crank", "kind", "fixed", "input", "coupler", "output", "0 deg", "")


def rubbish(chance, depth=0):
    """A value of any shape that JSON has."""
    shape = chance.randrange(6) if depth < 5 else 0
    if shape < 3:
        return chance.choice(PLAIN if shape else MARKED)
    if shape < 5:
        return [rubbish(chance, depth + 1) for _ in range(chance.choice([0, 1, 2, 5, 12]))]
    return {chance.choice(WORDS): rubbish(chance, depth + 1) for _ in range(chance.randrange(7))}


def in_the_form_asked(question, chance):
    """Rubbish in the form of the answer: so many rows, so many calls."""
    kind = question.kind
    if hasattr(kind, "rows"):
        return {row: rubbish(chance, 3) for row in kind.rows}
    return [rubbish(chance, 3) for _ in range(getattr(kind, "many", 3))]


@pytest.mark.parametrize("name", OUTLINES)
def test_rubbish_gets_a_verdict(name):
    paper, chance = find_assignment(name), random.Random(name)
    inputs = {q: None if x is None else np.asarray(x) for q, x in secret_inputs(paper, "ab123", "a key").items()}
    for round_ in range(8):
        raws = {
            q.id: received((rubbish if round_ % 2 else lambda c, q=q: in_the_form_asked(q, c))(chance))
            for q in paper.questions
        }
        for question, verdict in mark_paper(paper, "ab123", raws, inputs, "zz999").items():
            assert "marker failed" not in verdict.says, (question, raws[question])
            assert verdict.says
            json.dumps(verdict.says).encode()
