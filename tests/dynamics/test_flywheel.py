"""Flywheels against integrals by hand and against a machine that runs with one."""

import numpy as np
import pytest

import linkkit as lk
from tolerances import CLOSURE, DIFFERENCE

THETA = np.arange(720) * np.pi / 360


def test_energy_of_a_torque_with_two_harmonics():
    """A sin 2t swings by A, between its zeros at 45 and 135 degrees less the mean's: the integral by hand."""
    found = lk.energy_fluctuation(300 + 80 * np.sin(2 * THETA), THETA)
    assert found.energy == pytest.approx(80, rel=DIFFERENCE)
    assert found.mean == pytest.approx(300, rel=DIFFERENCE)
    assert found.work == pytest.approx(600 * np.pi, rel=DIFFERENCE)
    assert found.coefficient == pytest.approx(80 / (600 * np.pi), rel=DIFFERENCE)
    assert found.highest % np.pi == pytest.approx(np.pi / 2, abs=1e-6)
    assert (found.lowest + 1e-9) % np.pi == pytest.approx(0, abs=1e-6)


def test_a_cycle_of_two_turns():
    """Once in two turns of a four-stroke engine: sin(t / 2) swings by 4 A."""
    theta = np.arange(1440) * np.pi / 360
    assert lk.energy_fluctuation(50 * np.sin(theta / 2), theta, 4 * np.pi).energy == pytest.approx(200, rel=DIFFERENCE)


def test_the_flywheel_keeps_its_word():
    """The engine of a constant mean torque against its gas, run through a cycle with that flywheel on its crank."""
    engine, load = lk.slider_crank(0.05, 0.2), lambda s, v: -2000.0 * np.sign(v)
    motion = lk.move(engine, THETA, speed=100.0)
    against = lk.forces(motion, loads=[lk.SlideForce("slide", load)]).input_torque
    swing = lk.energy_fluctuation(against, THETA)
    wheel = lk.flywheel_for(swing.energy, 100.0, 0.02)
    crank = lk.Mass(10.0, at="O", inertia=wheel.inertia)
    run = lk.run_up(engine, 2.2 * np.pi / 100, masses={"crank": crank}, accuracy=1e-8, start=0.1, speed=100.0,
                    loads=[lk.SlideForce("slide", load), lk.Torque("crank", swing.mean)],
                    times=np.linspace(0, 2.2 * np.pi / 100, 2000))  # fmt: skip
    mean = (run.speed.max() + run.speed.min()) / 2
    assert np.ptp(run.speed) / mean == pytest.approx(0.02 * (100 / mean) ** 2, rel=2e-3)
    assert "kills" in str(wheel)
    assert wheel.mass(0.5) == pytest.approx(4 * wheel.inertia)


@pytest.mark.parametrize(
    ("given", "words"),
    [
        ((np.ones(5), np.ones(5)), "rising"),
        ((np.array([1.0, np.nan, 2.0]), np.arange(3.0)), "whole cycle"),
        ((np.ones(3), np.array([0.0, 3.0, 7.0])), "leave its end out"),
    ],
)
def test_what_is_no_cycle(given, words):
    with pytest.raises(lk.LinkageError, match=words):
        lk.energy_fluctuation(*given)


@pytest.mark.parametrize("given", [(0.0, 1.0, 0.1), (1.0, -1.0, 0.1), (1.0, 1.0, np.nan)])
def test_what_needs_no_flywheel(given):
    with pytest.raises(lk.LinkageError):
        lk.flywheel_for(*given)


def test_speed_of_a_flywheel_is_the_inverse():
    assert lk.speed_fluctuation(500.0, lk.flywheel_for(500.0, 30.0, 0.01).inertia, 30.0) == pytest.approx(
        0.01, rel=CLOSURE
    )
