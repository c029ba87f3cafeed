"""Each question answered by three routes: its answer, its method by hand, and the package's public names."""

import numpy as np
import pytest

import linkkit as lk
from linkkit.coursework import find_assignment
from linkkit.coursework.answers import Function, plain
from linkkit.coursework.verdict import judge
from tolerances import CLOSURE

PAPER = find_assignment("four-links")
IDS = [f"bank-{n}" for n in range(60)]


@pytest.mark.parametrize("question", PAPER.questions, ids=lambda q: q.id)
def test_method_by_hand_arrives_at_the_answer(question):
    for student in IDS:
        drawn = PAPER.givens(question.setting, student)
        worked = question.by_hand(drawn)
        right = question.right(drawn, [1.0])[0] if isinstance(question.kind, Function) else question.right(drawn)
        if isinstance(worked.value, float):
            # both are a few arccos and roots of well-conditioned triangles in doubles
            assert np.abs(np.exp(1j * worked.value) - np.exp(1j * right)) < CLOSURE, student
        else:
            assert worked.value == right, student


@pytest.mark.parametrize("question", PAPER.questions, ids=lambda q: q.id)
def test_model_answer_earns_full_marks(question):
    for student in IDS:
        drawn = PAPER.givens(question.setting, student)
        inputs = question.inputs(student, "key") if isinstance(question.kind, Function) else None
        verdict = judge(question, drawn, model_answer(question, drawn, inputs), inputs=inputs)
        assert (verdict.code, verdict.marks) == ("right", question.marks), student


def model_answer(question, drawn, inputs):
    """What the source notebook's solution leaves in the student's variable."""
    space = {"lk": lk, "np": np, question.setting.rpartition("-")[2]: drawn}
    if inputs is None:
        exec(question.model, space)
        return plain(space[question.id])
    body = "".join(f"    {line}\n" for line in question.model.strip().splitlines())
    exec(f"{question.kind.stub(question.id)}\n{body}", space)
    return question.kind.call(space[question.id], inputs)


@pytest.mark.parametrize("question", PAPER.questions, ids=lambda q: q.id)
def test_each_misconception_gets_its_own_diagnosis(question):
    for student in IDS:
        drawn = PAPER.givens(question.setting, student)
        inputs = question.inputs(student, "key") if isinstance(question.kind, Function) else None
        for known in question.misconceptions:
            raw = as_typed(question, question.wrong(known, drawn, inputs))
            verdict = judge(question, drawn, raw, inputs=inputs)
            assert (verdict.code, verdict.says) == (known.code, known.says), student
            assert verdict.marks == pytest.approx(known.share * question.marks, abs=0.005)


def as_typed(question, value):
    """A wrong answer as a student would write it."""
    if isinstance(question.kind, Function):
        return [float(v) for v in value]
    if isinstance(value, tuple):
        return dict(zip(question.kind.rows, value, strict=True))
    return str(value) if isinstance(value, str) else question.kind.show(value)


def test_question_ids_are_names_and_unique():
    names = [question.id for question in PAPER.questions]
    assert len(set(names)) == len(names) >= 8
    assert all(name.isidentifier() for name in names)


def test_later_part_follows_the_students_own_earlier_answer():
    question = PAPER.by_id["transmission_here"]
    drawn = PAPER.givens("net-shaker", "ab123")
    rocker = PAPER.by_id["rocker_angle"].right(drawn)
    assert question.right(drawn, earlier={"rocker_angle": rocker}) == pytest.approx(question.right(drawn), abs=CLOSURE)
    off = rocker + 0.2
    joint = drawn.ground + drawn.rocker * np.exp(1j * off)
    coupler = joint - drawn.crank * np.exp(1j * drawn.crank_angle)
    between = np.arccos(abs((coupler * np.exp(-1j * off)).real) / abs(coupler))
    assert question.right(drawn, earlier={"rocker_angle": off}) == pytest.approx(between, abs=CLOSURE)
