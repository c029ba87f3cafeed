"""What stands on a worked solution is right: copied off the page it earns all marks, and the equations hold.

Three ids of each assignment; `LINKKIT_SOLUTION_IDS=200 uv run pytest tests/solutions -k copied` tries two hundred.
"""

import math
import os
import re
from dataclasses import replace

import numpy as np
import pytest
from pages import SAMPLE, answers_on, raw_of

import linkkit as lk
from linkkit.breakdown import breakdown
from linkkit.coursework import find_assignment, own
from linkkit.coursework.answers import Function
from linkkit.coursework.papers import OUTLINES
from linkkit.coursework.question import Assignment, Worked
from linkkit.coursework.verdict import judge
from linkkit.draw import construction
from linkkit.solutions import render
from linkkit.solutions.closed_form import placed
from linkkit.solutions.machine import Machine
from linkkit.solutions.worked import DisagreementError, solved
from tolerances import CLOSURE

IDS = [f"solved{n}" for n in range(int(os.environ.get("LINKKIT_SOLUTION_IDS", "3")))]
WITH_A_POSITION = [
    (name, setting.id)
    for name in OUTLINES
    for setting in find_assignment(name).settings
    if setting.machine and any(g.name == "crank_angle_deg" for g in setting.givens)
]


@pytest.mark.parametrize("name", OUTLINES)
def test_answers_copied_off_the_page_earn_all_marks(name):
    paper = find_assignment(name)
    for student in IDS:
        page = render(paper, student)
        found = answers_on(page)
        for question in paper.questions:
            if not question.marked_by_hand:
                assert earns_all(paper, question, student, raw_of(question, found[question.id])), (student, question.id)


@pytest.mark.parametrize("name", OUTLINES)
def test_a_page_needs_nothing_from_elsewhere_and_every_picture_has_its_words(name):
    page = render(find_assignment(name), IDS[0])
    assert "://" not in page.replace("http://www.w3.org/2000/svg", "")
    assert "<script" not in page
    assert page.count('role="img"') == page.count("<svg") == page.count("<desc ")


def earns_all(paper, question, student, raw):
    """Does the marker give this answer all marks? The values of a function are compared to six figures, as printed."""
    givens = paper.givens(question.setting, student)
    if isinstance(question.kind, Function):
        return np.allclose(raw, question.right(givens, SAMPLE), rtol=5e-6, atol=1e-12)
    return judge(question, givens, raw).code == "right"


def test_every_question_has_its_steps_and_its_usual_wrong_answers():
    paper = find_assignment("velocity")
    page = render(paper, "ab123")
    for question in paper.questions:
        assert all(known.says.partition(".")[0][:40] in page.replace("&#39;", "'") for known in question.misconceptions)
        first = question.by_hand(paper.givens(question.setting, "ab123")).steps[0]
        assert first in page.replace("&#39;", "'")


def test_a_method_that_the_marker_would_not_accept_is_not_printed():
    paper = find_assignment("four-links")
    question = paper.by_id["swing"]
    off = replace(question, by_hand=lambda g: Worked(("A slip.",), question.right(g) + 0.1))
    faulty = replace(paper, questions=tuple(off if q is question else q for q in paper.questions), seen={})
    with pytest.raises(DisagreementError, match=r"swing: for the numbers of 'ab123'"):
        solved(off, faulty, "ab123")


@pytest.mark.parametrize(("name", "setting"), sorted({s: n for n, s in WITH_A_POSITION}.items()))
def test_the_closed_form_and_the_ruler_meet_at_the_same_point(name, setting):
    """`name` and `setting` come the other way round from the table: the pair says which machine of which paper."""
    setting, name = name, setting
    givens = find_assignment(name).givens(setting, "ab123")
    linkage = find_assignment(name).setting(setting).machine(givens)
    motion = lk.move(linkage, givens.crank_angle)
    drawn = construction(motion, 0).points
    for chain in breakdown(linkage):
        form = placed(chain, motion)
        end, where = end_of(form, chain, drawn)
        assert abs(where - drawn[end]) <= 1e4 * CLOSURE * abs(drawn[end])


def end_of(form, chain, drawn):
    """The pin that a chain places, from its closed form and the pins that the chain hangs on."""
    o, a, b, q = chain.pairs
    turn, values = np.exp(1j * form.frame), form.values
    if form.formula == "four_bar":
        return b, drawn[q] + form.given["rocker"] * turn * np.exp(1j * values["psi"])
    if form.formula == "slider_crank":
        return b, drawn[o] + turn * (values["x"] + 1j * form.given["offset"])
    return a, drawn[q] + (values["x"] + 1j * form.given["offset"]) * turn * np.exp(1j * values["psi"])


def test_the_numbers_put_in_come_to_what_stands_beside_them():
    paper = find_assignment("four-links")
    setting = paper.setting("net-shaker")
    machine = Machine.of(setting, paper.givens("net-shaker", "ab123"), set())
    lines = [re.sub(r"<[^>]+>", "", line) for line in machine.chains()[0]["form"]["lines"]]
    for line in (lines[1], lines[3]):  # U and V: products and sums alone, no powers or roots
        _, sum_, result = line.split("=")
        assert worked_out(sum_) == pytest.approx(float(result.replace("−", "-")), rel=2e-3)


def worked_out(text):
    """A line of numbers as it is read: angles in degrees."""
    text = text.replace("−", "-").replace("×", "*")
    text = re.sub(r"(cos|sin)\((-?[\d.]+)°\)", lambda m: repr(getattr(math, m[1])(math.radians(float(m[2])))), text)
    assert re.fullmatch(r"[-+*().\de]+", text), text
    return eval(text)


def test_a_lecturers_own_machine_is_worked_too():
    """Its input, speed and table of points stand under other names than those of the bank."""
    engine = lk.machine("steam-launch")
    story = "A table:\n\n| pin | x |\n|---|---|\n| O | 0 |"
    where = own.drawn(engine, id="my-engine", input_deg=(40, 55, 70), speed_rpm=(60, 90), story=story)
    asked = own.velocity(where, "pin_speed_here", point="A", axis="x")
    paper = Assignment("my-paper", "Mine", "", (where,), (asked,))
    page = render(paper, "ab123")
    assert earns_all(paper, asked, "ab123", raw_of(asked, answers_on(page)[asked.id]))
    assert page.index("The position, by ruler and compasses") < page.index("Velocity polygon")
    assert "The closed form of the inverted slider-crank" in page
    assert "<td>O</td>" in page
