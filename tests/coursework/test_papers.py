"""Every paper of the course: well posed, right scripts right, each misconception told by its name."""

from collections import Counter

import numpy as np
import pytest

import linkkit as lk
from linkkit.coursework import bank
from linkkit.coursework.answers import Function, plain
from linkkit.coursework.designed import Designed
from linkkit.coursework.marks import mark_paper
from linkkit.coursework.papers import OUTLINES, assignment
from linkkit.coursework.question import Assignment
from linkkit.coursework.verdict import judge
from tolerances import CLOSURE

MANY = [f"id-{n}" for n in range(10_000)]
FEW = 200
ALL = {
    s.id: Assignment("all", "", "", (s,), tuple(q for q in bank.questions().values() if q.setting == s.id))
    for s in bank.settings().values()
}
MARKED = [q for q in bank.questions().values() if not q.marked_by_hand]


@pytest.fixture(scope="module")
def drawn():
    """The numbers of ten thousand ids in each setting, all its questions asked; drawn once for this module."""
    kept = {}

    def of(setting):
        if setting not in kept:
            kept[setting] = ALL[setting].givens(setting, MANY)
        return kept[setting]

    return of


def secret(question, words="id"):
    """The inputs of a function, nothing for other kinds."""
    return question.inputs(words, "key") if isinstance(question.kind, Function) else None


def test_three_questions_for_each_concept_of_lessons_01_to_10():
    counts = Counter(q.concept for q in MARKED)
    assert {c[:2] for c in counts if c} >= {f"{n:02d}" for n in range(1, 11)}
    assert {c: n for c, n in counts.items() if c[:2] > "00" and n < 3} == {}
    assert "" not in counts


def test_a_paper_for_each_lesson_and_a_mixed_one():
    lessons = [Counter(q.concept[:2] for q in assignment(name).questions).most_common(1)[0][0] for name in OUTLINES]
    assert sorted(lessons[:10]) == [f"{n:02d}" for n in range(1, 11)]
    assert len({q.concept[:2] for q in assignment("mixed-paper").questions}) >= 8


@pytest.mark.parametrize("name", OUTLINES)
def test_names_in_a_notebook_do_not_clash(name):
    paper = assignment(name)
    names = [s.id.rpartition("-")[2] for s in paper.settings] + list(paper.by_id)
    assert len(set(names)) == len(names)
    assert all(n.isidentifier() for n in names)
    order = [paper.settings.index(paper.setting(q.setting)) for q in paper.questions]
    assert order == sorted(order), "the questions on one machine stand together"


@pytest.mark.parametrize("question", MARKED, ids=lambda q: q.id)
def test_right_and_wrong_are_apart_for_ten_thousand_ids(question, drawn):
    givens, inputs = drawn(question.setting), secret(question)
    right = question.right(givens, inputs)
    for known in question.misconceptions:
        assert np.all(farther(question.kind, right, question.wrong(known, givens, inputs))), known.code


@pytest.mark.parametrize("question", [q for q in MARKED if isinstance(q.kind, Designed)], ids=lambda q: q.id)
def test_a_design_that_meets_the_brief_is_known_for_ten_thousand_ids(question, drawn):
    givens = drawn(question.setting)
    assert (question.kind.brief.share(givens, question.right(givens)) == 1).all()
    for known in question.misconceptions:
        shares = question.kind.brief.share(givens, question.wrong(known, givens))
        assert shares == pytest.approx(np.full(len(MANY), known.share)), known.code


def farther(kind, right, wrong):
    """Is a wrong answer farther off than is accepted? Worked out here from the width alone."""
    if not hasattr(kind, "tolerance"):
        return kind.apart(right, wrong)
    gap = np.abs(np.asarray(wrong, dtype=float) - right)
    gap = np.minimum(gap % (2 * np.pi), -gap % (2 * np.pi)) if kind.tolerance.turn else gap
    far = ~(gap <= kind.tolerance.width(right))
    return far if np.ndim(right) == 1 else far.any(axis=-1)


@pytest.mark.parametrize("question", MARKED, ids=lambda q: q.id)
def test_hand_and_package_agree_and_misconceptions_are_named(question, drawn):
    givens = drawn(question.setting)
    # the routes are formulas: twelve ids meet every branch that more would; a design's are searches, all of one branch
    for k in range(4 if isinstance(question.kind, Designed) else 12):
        one, inputs = givens.at(k), secret(question)
        agrees(question, one)
        assert judge(question, one, model(question, one, inputs), inputs=inputs).code == "right", one
        for known in question.misconceptions:
            raw = wrong_raw(question, known, one, inputs)
            reading = question.kind.read(raw)
            if reading.usable and not reading.fault:
                assert judge(question, one, raw, inputs=inputs).code == known.code, one


def agrees(question, givens):
    """The method by hand arrives at the answer."""
    hand = question.by_hand(givens).value
    right = question.right(givens, [1.0])[0] if isinstance(question.kind, Function) else question.right(givens)
    if isinstance(hand, str | tuple):
        assert question.kind.same(hand, right)
    else:
        # both are a few roots and arcs of well-conditioned triangles; accelerations amplify by the square of speeds
        assert np.allclose(np.exp(1j * np.asarray(hand)), np.exp(1j * np.asarray(right)), rtol=0, atol=1e3 * CLOSURE)


def wrong_raw(question, known, givens, inputs):
    """A misconception as it is handed in."""
    value = question.wrong(known, givens, inputs)
    return [float(v) for v in value] if inputs is not None else question.kind.typed(value)


def model(question, givens, inputs):
    """What the source notebook's solution leaves; own code without the package."""
    space = {"np": np, question.setting.rpartition("-")[2]: givens} | ({} if question.own_code else {"lk": lk})
    if inputs is None:
        exec(f"{question.kind.stub(question.id)}\n{question.model}", space)
        return plain(space[question.id])
    body = "".join(f"    {line}\n" for line in question.model.strip().splitlines())
    exec(f"{question.kind.stub(question.id)}\n{body}", space)
    return question.kind.call(space[question.id], inputs)


@pytest.mark.parametrize("name", OUTLINES)
def test_honest_right_script_earns_all_marks_for_two_hundred_ids(name):
    paper, ids = assignment(name), [f"honest{n}" for n in range(FEW)]
    for setting in paper.settings:
        together = paper.givens(setting.id, ids)
        paper.seen.update({(setting.id, student): together.at(k) for k, student in enumerate(ids)})
    for student in ids:
        inputs = {q.id: secret(q, student) for q in paper.questions}
        raws = {q.id: by_hand(paper, q, student, inputs[q.id]) for q in paper.questions}
        verdicts = mark_paper(paper, student, raws, inputs)
        lost = {q: v for q, v in verdicts.items() if v.code not in ("right", "by-hand")}
        assert not lost, student
        assert sum(v.marks or 0 for v in verdicts.values()) == paper.marks_by_machine


def by_hand(paper, question, student, inputs):
    """The answer of the method by hand, written with four figures; a function is the model's."""
    givens = paper.givens(question.setting, student)
    return (
        model(question, givens, inputs) if inputs is not None else question.kind.typed(question.by_hand(givens).value)
    )
