"""What a student recorded survives restarts, crashes and damage."""

import json
import os
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor

import pytest

from linkkit.workbook import explain, my_record, predict
from linkkit.workbook.record import Record, split


def test_an_entry_is_there_for_the_next_session(records):
    Record("02").put("swing", question="How far?", answer=40.0, unit="°")
    again = Record("02").get("swing")
    assert (again["answer"], again["unit"], again["question"]) == (40.0, "°", "How far?")
    assert json.loads((records / "02.json").read_text())["entries"]["swing"]["answer"] == 40.0


def test_entries_of_other_sessions_are_kept(records):
    one, other = Record("02"), Record("02")
    one.put("a", answer="x")
    other.put("b", answer="y")
    one.put("c", answer="z")
    assert set(Record("02").entries()) == {"a", "b", "c"}


def test_history_keeps_every_version(records):
    record = Record("02")
    for words in ("first", "second", "third"):
        record.put("why", answer=words)
    entry = record.get("why")
    assert entry["answer"] == "third"
    assert [e["answer"] for e in entry["history"]] == ["first", "second"]


@pytest.mark.parametrize(
    "rubbish", [b"{not json", b"[]", b'{"entries": 3}', b'{"entries": {"a": 1}}', b"\xff\xfe\x00", b""]
)
def test_a_damaged_file_is_kept_aside_and_said(records, rubbish):
    records.mkdir()
    (records / "02.json").write_bytes(rubbish)
    record = Record("02")
    assert record.entries() == {}
    (kept,) = records.glob("02.unreadable-*.json")
    assert kept.read_bytes() == rubbish
    assert kept.name in record.message
    record.put("a", answer="x")
    assert Record("02").get("a")["answer"] == "x"


def test_a_crash_while_writing_leaves_the_old_file(records, monkeypatch):
    record = Record("02")
    record.put("a", answer="old")

    def crash(*_):
        raise OSError("disk full")

    monkeypatch.setattr(os, "replace", crash)
    with pytest.raises(OSError, match="disk full"):
        record.put("a", answer="new")
    monkeypatch.undo()
    assert Record("02").get("a")["answer"] == "old"
    assert [p.name for p in records.iterdir()] == ["02.json"]


def test_writing_at_once_never_damages_the_file(records):
    with ThreadPoolExecutor(8) as pool:
        list(pool.map(lambda k: Record("02").put(f"e{k}", answer=k), range(40)))
    entries = json.loads((records / "02.json").read_text())["entries"]
    assert entries
    assert all(entries[name]["answer"] == int(name[1:]) for name in entries)


def test_the_record_prints_as_a_table_with_everything_escaped(records):
    Record("02").put("a", question="<b>How?</b>", answer="<script>x</script>")
    html = my_record("02")._repr_html_()
    assert "<script" not in html
    assert "&lt;script&gt;x&lt;/script&gt;" in html
    assert "Nothing has been recorded" in my_record("03")._repr_html_()


def test_everything_of_one_sitting_is_printed_after_a_restart(records, tmp_path):
    sitting = """
from linkkit.workbook import explain, practice, predict
asked = predict("Round?", ["yes", "no"], key="02/round")
asked.field.value = "no"; asked.button.click()
number = predict("How far?", unit="°", key="03/far")
number.field.value = "12,5"; number.button.click()
words = explain("Why?", key="02/why")
words.field.value = "Because."; words.button.click()
panel = practice("swing", key="02/swing")
for text in ("1°", "2°"):
    panel.form.field.value = text; panel.check.click()
"""
    subprocess.run([sys.executable, "-c", sitting], check=True, env=os.environ | {"LINKKIT_WORK": str(records)})
    again = predict("Round?", ["yes", "no"], key="02/round")
    assert (again.unlocked, again.field.value) == (True, "no")
    assert predict("How far?", unit="°", key="03/far").field.value == "12.5"
    assert explain("Why?", key="02/why").field.value == "Because."
    page = my_record().save(tmp_path / "mine.html").read_text()
    for printed in ("Round?", "no", "12.5 °", "Because.", "How far does it swing? (set 1)", "not yet right, 2 tries"):
        assert printed in page


def test_a_choice_that_was_reworded_does_not_stop_the_lesson(records):
    Record("02").put("round", kind="prediction", question="Round?", answer="perhaps", unit="")
    panel = predict("Round?", ["yes", "no"], key="02/round")
    assert panel.unlocked
    assert "You predicted: perhaps" in panel.message.value


@pytest.mark.parametrize("name", ["../02", "", ".hidden", "a/b", "02 x"])
def test_a_record_cannot_lie_elsewhere(name):
    with pytest.raises(ValueError, match="cannot name a record"):
        Record(name)


@pytest.mark.parametrize("key", ["swing", "02/", "/swing", "02/a/b"])
def test_keys_that_name_nothing_are_refused(key):
    with pytest.raises(ValueError, match="is no key"):
        split(key)
