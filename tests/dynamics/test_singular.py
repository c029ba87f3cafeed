"""Singular positions: a status, the finite limit where there is one, and never a silent huge number."""

from dataclasses import replace

import numpy as np
import pytest

import linkkit as lk
from tolerances import CLOSURE, DIFFERENCE

FLAT = np.array([0.0, np.pi])


def pushed_engine():
    """A slider-crank driven by its slider, whose dead centres are at rod less and rod more crank."""
    engine = lk.slider_crank(0.1, 0.3)
    push = lk.Input("push", "distance", engine.slides[0].name, ("ground", "slider"))
    return replace(engine, inputs=(push,))


@pytest.mark.parametrize("circuit", ["open", "crossed"])
def test_flat_parallelogram_has_the_limit_from_both_sides(circuit):
    """At a change point, with the crank on the ground line: exact limits by the two circuits' known motion.

    In the parallelogram the rocker turns as the crank. In the antiparallelogram ground and coupler act as the axes of two
    equal ellipses that roll on each other: the ratio is (g - r)/(g + r) or its inverse, with the sign reversed.
    """
    motion = lk.move(lk.four_bar(0.4, 0.1, 0.4, 0.1, circuit=circuit), FLAT, speed=2.0)
    assert motion.singular.all()
    ratio = {"open": [1, 1], "crossed": [-(0.4 + 0.1) / 0.3, -0.3 / (0.4 + 0.1)]}[circuit]
    assert motion.angular_velocity("rocker") == pytest.approx(2 * np.array(ratio), rel=DIFFERENCE)
    assert abs(motion.angular_acceleration("rocker")) == pytest.approx(0, abs=1e-4)
    beside = lk.move(motion.linkage, FLAT + 1e-3, speed=2.0)
    assert not beside.singular.any()
    assert beside.angular_velocity("rocker") == pytest.approx(motion.angular_velocity("rocker"), abs=0.02)


def test_dead_centre_has_no_rate():
    """The crank's rate grows as one over the root of the distance to the dead centre; there it is nan, and said so."""
    engine = pushed_engine()
    near = lk.move(engine, 0.4 - np.array([1e-4, 1e-6, 1e-8]), speed=1.0)
    assert not near.singular.any()
    growth = abs(near.angular_velocity("crank"))
    assert growth[1:] / growth[:-1] == pytest.approx(10, rel=1e-2)
    ends = lk.move(engine, [0.2, 0.3, 0.4], speed=1.0)
    assert ends.ok.all()
    assert ends.singular.tolist() == [True, False, True]
    assert np.isnan(ends.angular_velocity("crank")[[0, 2]]).all()
    assert ends.velocity("B") == pytest.approx(1.0)
    note = lk.forces(ends, masses={"slider": 1.0}).notes[0]
    assert "crank" in note
    assert "0.2, 0.4 m" in note
    assert "without bound" in note


def test_force_at_a_dead_centre_is_not_a_number():
    """A torque on the crank cannot be held by its slider there: no finite force."""
    forces = lk.forces(lk.move(pushed_engine(), [0.2, 0.3, 0.4]), loads={"crank": 5.0})
    assert np.isnan(forces.input_torque[[0, 2]]).all()
    # at 0.3 m, by the work of the crank: torque times its turn for a unit of the slider's way
    turn = lk.move(pushed_engine(), [0.3], speed=1.0).angular_velocity("crank")[0]
    assert forces.input_torque[1] == pytest.approx(-5.0 * turn, rel=CLOSURE)


def test_force_at_a_change_point_has_its_limit():
    """Inertia of an evenly turning parallelogram's coupler: towards the crank's centre, shared by both cranks."""
    motion = lk.move(lk.four_bar(0.4, 0.1, 0.4, 0.1), np.array([0.0, 0.3, np.pi]), speed=10.0)
    forces = lk.forces(motion, masses={"coupler": lk.Mass(2.0, along=0.2)})
    assert motion.singular.tolist() == [True, False, True]
    outward = 2.0 * 0.1 * 10.0**2 * np.exp(1j * motion.input)
    assert forces.shaking_force == pytest.approx(outward, rel=DIFFERENCE)
    assert "limit from both sides" in forces.notes[0]


def test_a_limit_position_of_the_output_is_not_singular():
    """Where the rocker turns back its rate is 0 and everything is finite."""
    bar = lk.four_bar(0.4, 0.1, 0.35, 0.25)
    motion = lk.move(bar, lk.facts(bar).limits, speed=5.0)
    assert not motion.singular.any()
    assert abs(motion.angular_velocity("rocker")) == pytest.approx(0, abs=1e-6)
    assert lk.mechanical_advantage(motion).toggle.shape == (2,)
