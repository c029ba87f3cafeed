"""How an answer is read: value, unit, sign and figures apart, each with its own words."""

import math

import numpy as np
import pytest

from linkkit.coursework.answers import Choice, Number, Table, plain
from linkkit.coursework.tolerance import calculated
from linkkit.coursework.units import si

LENGTH, ANGLE, RATIO = (Number(unit, calculated(unit)) for unit in ("mm", "deg", ""))

READ = [  # (kind, as written, value in SI, figures)
    (LENGTH, "87.5 mm", 0.0875, 3),
    (LENGTH, "87.5mm", 0.0875, 3),
    (LENGTH, " 8.75 cm ", 0.0875, 3),
    (LENGTH, "-87.5 mm", -0.0875, 3),
    (LENGTH, "−87.5 mm", -0.0875, 3),
    (LENGTH, "87,5 mm", 0.0875, 3),
    (LENGTH, "0.0875 m", 0.0875, 3),
    (LENGTH, "8.75e-2 m", 0.0875, 3),
    (LENGTH, "1 inch", 0.0254, 1),  # the inch is 25.4 mm by definition (international yard and pound, 1959)
    (LENGTH, ["not a number", "mm"], None, None),
    (LENGTH, [87.5, "mm"], 0.0875, None),
    (ANGLE, "90 deg", math.pi / 2, 1),
    (ANGLE, "90°", math.pi / 2, 1),
    (ANGLE, "90 degrees", math.pi / 2, 1),
    (ANGLE, "90 Degrees", math.pi / 2, 1),
    (ANGLE, "1.5 rad", 1.5, 2),
    (ANGLE, "0.25 turn", math.pi / 2, 2),
    (ANGLE, "90.0 deg", math.pi / 2, 3),
    (RATIO, "1.25", 1.25, 3),
    (RATIO, 1.25, 1.25, None),
]


@pytest.mark.parametrize(("kind", "written", "value", "figures"), READ, ids=repr)
def test_value_unit_and_figures(kind, written, value, figures):
    reading = kind.read(written)
    if value is None:
        assert not reading.usable
    else:
        assert reading.value == pytest.approx(value, rel=1e-15)
        assert (reading.figures, reading.fault) == (figures, "")


FAULTS = [  # (kind, as written, code, a part of the sentence)
    (ANGLE, None, "blank", "no answer here yet"),
    (ANGLE, "  ", "blank", "no answer here yet"),
    (ANGLE, "about forty", "not-a-number", "No number can be read in “about forty”"),
    (ANGLE, "40 or 50 deg", "unknown-unit", "no unit that is known"),
    (ANGLE, 40.0, "no-unit", "an angle needs one"),
    (ANGLE, "40", "no-unit", "an angle needs one"),
    (ANGLE, "40 mm", "other-quantity", "You gave a length"),
    (ANGLE, "40 %", "other-quantity", "You gave a plain number"),
    (LENGTH, "40 deg", "other-quantity", "what is asked for is a length"),
    (LENGTH, "1,250 mm", "comma", "read in two ways"),
    (LENGTH, "40 mm/s", "other-quantity", "You gave a speed"),
    (LENGTH, "40 furlongs per jiffy", "unknown-unit", "no unit that is known"),
    (RATIO, "1.2 mm", "other-quantity", "You gave a length"),
    (RATIO, float("nan"), "not-finite", "not a finite number"),
    (RATIO, "1e999", "not-finite", "not a finite number"),
    (RATIO, True, "not-a-number", "True or False"),
    (RATIO, [1.0, 2.0, 3.0], "not-a-number", "a list"),
    (RATIO, {"not readable": "complex"}, "not-a-number", "an object of type complex"),
]


@pytest.mark.parametrize(("kind", "written", "code", "says"), FAULTS, ids=repr)
def test_each_fault_has_its_own_words(kind, written, code, says):
    reading = kind.read(written)
    assert reading.fault == code
    assert says in reading.says


@pytest.mark.parametrize("unit", ["mm**9**9**9", "m^99999999", "m" * 5000, "__import__('os')", "m; m", "1e9"])
def test_hostile_units_are_no_units_and_take_no_time(unit):
    assert si(unit) is None


@pytest.mark.parametrize("written", ["Crank-rocker", "crank rocker", " CRANK_ROCKER ", "crank‐rocker"])
def test_options_are_read_loosely(written):
    assert Choice(("crank-rocker", "double-crank")).read(written).value == "crank-rocker"


def test_option_that_is_none_is_refused_with_the_list():
    reading = Choice(("crank-rocker", "double-crank")).read("crank")
    assert reading.fault == "not-an-option"
    assert "crank-rocker; double-crank" in reading.says


def test_table_is_read_row_by_row():
    table = Table(("crank", "rod"), ("fixed", "translation"))
    reading = table.read({"Crank": "Fixed", "rod": "sideways", "tail": "fixed"})
    assert reading.value == ("fixed", None)
    assert "rod: “sideways” is none of the options" in reading.says


class Odd:
    """An object that claims to equal everything."""

    def __eq__(self, other):
        return True

    __hash__ = None


PLAIN = [
    (np.float64(1.5), 1.5),
    (np.int32(3), 3.0),
    (np.array(2.5), 2.5),
    (np.array([1, 2]), [1.0, 2.0]),
    (("a", 2), ["a", 2.0]),
    (..., None),
    ({"a": (1, "deg")}, {"a": [1.0, "deg"]}),
    (1j, {"not readable": "complex"}),
    (Odd(), {"not readable": "Odd"}),
    (np.str_("rod"), "rod"),
]


@pytest.mark.parametrize(("thing", "value"), PLAIN, ids=lambda v: type(v).__name__)
def test_objects_become_plain_values(thing, value):
    assert plain(thing) == value
    assert type(plain(thing)) is type(value)


def test_plain_values_are_capped():
    assert len(plain("x" * 10**6)) == len(plain(np.zeros(10**6))) == 2000
    deep = [[[[[[1]]]]]]
    assert "not readable" in repr(plain(deep))
