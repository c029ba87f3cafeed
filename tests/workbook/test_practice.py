"""Practice: each try is answered in words, the numbers are fresh, the record goes on after a restart."""

import numpy as np
import pytest

from linkkit.coursework.answers import Choice, Number
from linkkit.coursework.shelf import SHELF, find, numbers
from linkkit.coursework.verdict import judge
from linkkit.workbook import practice
from tolerances import CLOSURE

SETS = range(1, 41)
PANELS = [question.id for question in SHELF.questions]


def sets(question):
    """Many sets of numbers, drawn at once."""
    drawn = numbers(question, SETS)
    return [(n, drawn.at(k)) for k, n in enumerate(SETS)]


@pytest.mark.parametrize("name", PANELS)
def test_every_set_has_an_answer_by_two_routes(name):
    question = find(name)
    for n, givens in sets(question):
        right, by_hand = question.right(givens), question.by_hand(givens).value
        if isinstance(question.kind, Number):
            assert abs(float(right) - by_hand) < CLOSURE * max(1, abs(by_hand)), n
        else:
            assert judge(question, givens, question.kind.typed(by_hand)).code == "right", n
        assert judge(question, givens, question.kind.typed(right)).code == "right", n


@pytest.mark.parametrize("name", PANELS)
def test_every_misconception_gets_its_own_words(name):
    question = find(name)
    met = set()
    for n, givens in sets(question):
        for known in question.misconceptions:
            wrong = question.wrong(known, givens)
            if isinstance(question.kind, Choice) and wrong not in question.kind.options:
                continue
            if isinstance(question.kind, Number) and not np.isfinite(wrong):
                continue
            verdict = judge(question, givens, question.kind.typed(wrong))
            assert verdict.says == known.says, (n, known.code)
            met.add(known.code)
    assert met == {known.code for known in question.misconceptions}, "a misconception that no set can show"


def test_numbers_change_from_set_to_set():
    drawn = {str(givens.plain()) for _, givens in sets(find("swing"))}
    assert len(drawn) == len(SETS)


def test_a_set_is_the_same_alone_and_among_others():
    for n, givens in sets(find("swing"))[:5]:
        assert numbers(find("swing"), n).plain() == givens.plain()


def test_a_wrong_answer_is_explained_and_may_be_tried_again():
    panel = practice("in_radians", key="00/radians")
    panel.form.field.value = str(panel.givens.turned_deg)
    panel.check.click()
    assert "still the number of degrees" in panel.message.value
    assert 'role="alert"' in panel.message.value
    panel.form.field.value = f"{float(panel.givens.turned):.6g}"
    panel.check.click()
    assert "Right." in panel.message.value
    assert 'role="status"' in panel.message.value


def test_nothing_written_is_no_try(records):
    panel = practice("in_radians", key="00/radians")
    panel.check.click()
    assert "no answer here yet" in panel.message.value
    assert not (records / "00.json").exists()
    assert panel.how.disabled


def test_other_numbers_empty_the_answer():
    panel = practice("link_length", key="00/length")
    before = panel.givens.plain()
    panel.form.field.value = "12 mm"
    panel.check.click()
    panel.another.click()
    assert panel.givens.plain() != before
    assert panel.form.field.value == ""
    assert panel.message.value == ""


def test_the_working_comes_after_a_try_and_ends_in_the_answer():
    panel = practice("stroke", key="03/stroke")
    assert panel.how.disabled
    panel.form.field.value = "1 mm"
    panel.check.click()
    panel.how.click()
    right = find("stroke").right(panel.givens)
    assert find("stroke").kind.show(right) in panel.working.value


def test_a_restart_goes_on_where_one_was():
    panel = practice("in_radians", key="00/radians")
    panel.form.field.value = "1000"
    panel.check.click()
    assert practice("in_radians", key="00/radians").set_number == 1
    panel.form.field.value = f"{float(panel.givens.turned):.6g}"
    panel.check.click()
    assert practice("in_radians", key="00/radians").set_number == 2


def test_a_table_is_answered_row_by_row():
    panel = practice("link_kinds", key="04/kinds")
    right = dict(zip(panel.question.kind.rows, panel.question.right(panel.givens), strict=True))
    for row, word in right.items():
        panel.form.fields[row].value = word
    panel.check.click()
    assert panel.verdict.code == "right"


def test_every_try_is_in_the_record(records):
    panel = practice("in_radians", key="00/radians")
    for text in ("1000", "2000"):
        panel.form.field.value = text
        panel.check.click()
    assert panel.record.get("radians")["answer"] == "2000"
    assert panel.record.get("radians")["history"][0]["answer"] == "1000"


def test_the_statement_shows_the_numbers():
    panel = practice("link_length", key="00/length")
    shown = "".join(output["data"]["text/markdown"] for output in panel.statement.outputs)
    assert all(value in shown for _, value, _ in panel.givens.rows())


def test_an_unknown_question_names_those_that_there_are():
    with pytest.raises(ValueError, match="swing"):
        practice("swnig")


def test_markup_in_an_answer_is_text():
    panel = practice("in_radians", key="00/radians")
    panel.form.field.value = "<img src=x onerror=alert(1)>"
    panel.check.click()
    assert "<img" not in panel.message.value
