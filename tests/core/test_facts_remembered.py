"""Facts that are asked for again come from memory, and are those that would be found anew."""

import sys
from dataclasses import replace

import numpy as np

import linkkit as lk

FACTS = sys.modules["linkkit.facts"]


def bars(crank=0.1):
    return lk.four_bar(0.4, crank, 0.35, 0.25)


def test_equal_linkages_are_looked_into_once(monkeypatch):
    asked, found = [], FACTS._found
    monkeypatch.setattr(FACTS, "_remembered", [])
    monkeypatch.setattr(FACTS, "_found", lambda *words: asked.append(words) or found(*words))
    for crank in (0.1, 0.1, 0.11, 0.1):
        lk.facts(bars(crank))
    assert len(asked) == 2


def test_what_is_kept_cannot_be_changed_from_outside():
    first = lk.facts(bars())
    first.limits[:] = 0
    first.ranges.append("rubbish")
    again = lk.facts(bars())
    FACTS._remembered.clear()
    anew = lk.facts(bars())
    for name, value in vars(anew).items():
        assert np.array_equal(vars(again)[name], value), name


def test_another_output_has_other_facts():
    assert lk.facts(bars()).output != lk.facts(replace(bars(), output="coupler")).output
