"""A machine file keeps every linkage, whatever its numbers, and every mistake in one is told in a sentence."""

from contextlib import suppress

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import linkkit as lk
from strategies import FAMILIES

LINKAGES = st.one_of(*FAMILIES.values())


@settings(max_examples=50)
@given(linkage=LINKAGES, unit=st.sampled_from(["m", "cm", "mm"]))
def test_round_trip(linkage, unit, tmp_path_factory):
    file = tmp_path_factory.mktemp("files") / "one.toml"
    lk.write(linkage, file, unit=unit)
    assert lk.read(file) == linkage


@settings(max_examples=50)
@given(linkage=LINKAGES, data=st.data())
def test_a_spoilt_file_is_read_or_refused_as_such(linkage, data, tmp_path_factory):
    """One stretch of a good file replaced by other characters: read, or a MachineError."""
    file = tmp_path_factory.mktemp("files") / "spoilt.toml"
    lk.write(linkage, file)
    text = file.read_text(encoding="utf-8")
    start = data.draw(st.integers(0, len(text) - 1))
    rest = text[start + data.draw(st.integers(0, 12)) :]
    file.write_text(text[:start] + data.draw(st.text(max_size=12)) + rest, encoding="utf-8")
    with suppress(lk.MachineError):  # nothing else may come out
        lk.read(file)


@settings(max_examples=50)
@given(junk=st.binary(max_size=200))
def test_bytes_that_are_no_machine(junk, tmp_path_factory):
    file = tmp_path_factory.mktemp("files") / "junk.toml"
    file.write_bytes(junk)
    with pytest.raises(lk.MachineError, match=r"junk\.toml"):
        lk.read(file)
