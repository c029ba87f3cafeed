"""Counterweights and engines in line against the forces of the moving linkage itself."""

from dataclasses import replace

import numpy as np
import pytest

import linkkit as lk
from tolerances import CLOSURE

BAR = lk.four_bar(0.4, 0.1, 0.35, 0.25)
MASSES = {
    "crank": lk.Mass(0.8, along=0.03, across=0.01, inertia=0.001),
    "coupler": lk.Mass(1.5, along=0.2, across=-0.07, inertia=0.02),
    "rocker": lk.Mass(1.1, along=0.1, across=0.02, inertia=0.01),
}


@pytest.mark.parametrize("circuit", ["open", "crossed"])
def test_full_force_balance_of_a_four_bar(circuit):
    """Berkof and Lowen (1969): with their counterweights no force shakes the frame at any position, speed, acceleration."""
    bar = lk.four_bar(0.4, 0.1, 0.35, 0.25, circuit)
    motion = lk.move(bar, steps=72, speed=20.0, acceleration=50.0)
    before = lk.forces(motion, masses=MASSES).shaking_force
    found = lk.counterweights(bar, MASSES, radius=0.06)
    after = lk.forces(motion, masses=found.masses)
    assert np.max(abs(after.shaking_force)) < 100 * CLOSURE * np.max(abs(before))
    assert np.max(abs(after.shaking_moment)) > 1  # which the method does not balance
    assert {w.link for w in found.weights} == {"crank", "rocker"}


def test_counterweights_may_have_their_own_radii_and_print_their_caution():
    found = lk.counterweights(BAR, MASSES, radius={"crank": 0.03, "rocker": 0.09})
    one, two = lk.counterweights(BAR, MASSES, radius=0.03).weights, found.weights
    assert two[0].mass == pytest.approx(one[0].mass)
    assert two[1].mass == pytest.approx(one[1].mass / 3)
    assert abs(two[0].at) == pytest.approx(0.03)
    assert "qualified engineer" in str(found)
    assert f"{two[0].mass:.6g} kg on crank" in str(found)


def test_counterweights_are_for_four_bars():
    with pytest.raises(lk.LinkageError, match="four-bar"):
        lk.counterweights(lk.slider_crank(0.1, 0.4), {"slider": 1.0}, radius=0.1)
    with pytest.raises(lk.LinkageError, match="radius"):
        lk.counterweights(BAR, MASSES, radius=0.0)


def test_part_balance_against_the_linkage():
    """A very long rod leaves the primary force alone: the counterweight on the crank leaves what is promised."""
    crank, rod, speed = 0.1, 1e4, 30.0
    found = lk.part_balance(crank=crank, reciprocating=3.0, rotating=1.2, share=0.6, radius=0.08, speed=speed)
    engine = lk.slider_crank(crank, rod)
    arm = engine.points["A"] / crank
    turning = lk.Mass(1.2 + found.mass, at=arm * (1.2 * crank - found.mass * 0.08) / (1.2 + found.mass))
    motion = lk.move(engine, steps=24, speed=speed)
    forces = lk.forces(motion, masses={"slider": 3.0, "crank": turning})
    left = found.along * np.cos(motion.input) - 1j * found.across * np.sin(motion.input)
    assert forces.shaking_force == pytest.approx(left, abs=1e-4 * abs(found.along))
    assert "qualified engineer" in str(found)


def one_cylinder(throw, steps=360):
    """The force along the stroke of one cylinder of 0.6 kg, crank 50 mm, rod 200 mm, at 200 rad/s."""
    motion = lk.move(lk.slider_crank(0.05, 0.2), np.arange(steps) * 2 * np.pi / steps + throw, speed=200.0)
    return lk.forces(motion, masses={"slider": 0.6}).shaking_force.real


@pytest.mark.parametrize(
    ("throws", "vanishing"),
    [
        ([0.0], ()),
        ([0, 180], ("primary_force", "secondary_couple")),
        ([0, 120, 240], ("primary_force", "secondary_force")),
        ([0, 180, 180, 0], ("primary_force", "primary_couple", "secondary_couple")),
        ([0, 120, 240, 240, 120, 0], ("primary_force", "primary_couple", "secondary_force", "secondary_couple")),
    ],
)
def test_cylinders_in_line(throws, vanishing):
    """Against the exact forces of as many slider-cranks: first and second harmonic, the second within (r/l)^2 of itself.

    Which of them vanish is common knowledge of every text on balancing.
    """
    phi = np.radians(throws)
    places = np.arange(len(phi)) * 0.1 - 0.05 * (len(phi) - 1)
    found = lk.inline_engine(crank=0.05, rod=0.2, reciprocating=0.6, throws=phi, positions=places, speed=200.0)
    whole = sum(one_cylinder(p) for p in phi)
    harmonics = np.fft.rfft(whole) / 180
    size = 0.6 * 0.05 * 200**2 * len(phi)
    assert found.balanced == (vanishing if len(phi) > 1 else ("primary_couple", "secondary_couple"))
    assert np.conj(found.primary_force) == pytest.approx(np.conj(harmonics[1]), abs=1e-9 * size)
    assert abs(found.secondary_force) == pytest.approx(abs(harmonics[2]), rel=(0.05 / 0.2) ** 2, abs=1e-9 * size)
    theta = np.arange(360) * np.pi / 180
    assert np.max(abs(found.force(theta) - whole)) < (0.05 / 0.2) ** 3 * size
    assert "qualified engineer" in str(found)


def test_masses_may_be_of_the_linkage():
    """The masses that the linkage has of its own are balanced if no others are given."""
    heavy = replace(BAR, masses=MASSES)
    assert lk.counterweights(heavy, radius=0.06).weights == lk.counterweights(BAR, MASSES, radius=0.06).weights
