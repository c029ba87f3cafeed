"""R. S. Khurmi and J. K. Gupta, Theory of Machines, 14th ed., S. Chand 2005: forces in engines (ch. 15), flywheels
(ch. 16), and a counterweight.

The book takes the inertia of the reciprocating parts by two terms of the series, so that this inertia is given here as a load
along the slide and the linkage solved without masses. What the exact motion makes of it is checked beside, within the
terms left out.
"""

import numpy as np
import pytest

import linkkit as lk
from tolerances import drawn, printed


def engine_forces(crank, rod, degrees, net):
    """The forces when `net` newtons push the piston towards the crank; the crank at an angle from the dead centre."""
    motion = lk.move(lk.slider_crank(crank, rod), np.radians(degrees), speed=1.0)
    return lk.forces(motion, loads={"slide": -net})


def two_terms(mass, crank, rod, rpm, degrees):
    """The inertia force away from the crank, as the book takes it."""
    t, w = np.radians(degrees), rpm * np.pi / 30
    return mass * w**2 * crank * (np.cos(t) + np.cos(2 * t) / (rod / crank))


def bore(metres):
    return np.pi / 4 * metres**2


def test_15_7_horizontal_engine():
    """p. 533: crank 300, rod 1200, bore 500 mm, 250 kg, 60 degrees, 0.35 N/mm2, 250 rpm."""
    found = engine_forces(0.3, 1.2, 60, 0.35e6 * bore(0.5) - two_terms(250, 0.3, 1.2, 250, 60))
    assert abs(found.slide("slide").normal) / 1000 == printed("10.97")
    assert abs(found.pin("A")) / 1000 == printed("50.65")
    assert -found.input_torque / 0.3 / 1000 == printed("48.30")
    assert -found.input_torque / 1000 == printed("14.491")


def test_15_7_with_exact_inertia():
    """The terms left out are each 0.4 % of the inertia, r/l being 1/4, and this less than half of the gas force."""
    motion = lk.move(lk.slider_crank(0.3, 1.2), np.radians(60), speed=250 * np.pi / 30)
    found = lk.forces(motion, masses={"slider": 250.0}, loads={"slide": -0.35e6 * bore(0.5)})
    assert -found.input_torque / 1000 == drawn(14.491, 0.5)


def test_15_8_vertical_engine():
    """p. 534: bore 300, stroke 450, rod 1200, tail rod 50 mm, 225 kg, 125 degrees, 200 rpm, 30 and 1.5 kN/m2."""
    steam = 30e3 * bore(0.3) - 1.5e3 * (bore(0.3) - bore(0.05))
    net = steam + 225 * 9.81 - two_terms(225, 0.225, 1.2, 200, 125)
    assert -engine_forces(0.225, 1.2, 125, net).input_torque == printed("3020")


def test_15_11_petrol_engine():
    """p. 537: bore 100, stroke 120, rod 250 mm, 1.1 kg, 20 degrees, 700 kN/m2, 2000 rpm; rounded on the way."""
    net = 700e3 * bore(0.1) + 1.1 * 9.81 - two_terms(1.1, 0.06, 0.25, 2000, 20)
    found = engine_forces(0.06, 0.25, 20, net)
    assert net == drawn(2255.6, 0.2)
    assert abs(found.slide("slide").normal) == drawn(185.4, 0.3)  # the book's rod leans 4.7 degrees, exactly 4.708
    assert abs(found.pin("B")) == drawn(2265, 0.2)
    reversal = np.sqrt((700e3 * bore(0.1) + 1.1 * 9.81) / two_terms(1.1, 0.06, 0.25, 30 / np.pi, 20)) * 30 / np.pi
    assert reversal == drawn(2606, 0.2)


def test_16_1_speeds_of_a_flywheel():
    """6.5 t, radius of gyration 1.8 m, 56 kN m of energy, 120 rpm: from 121 to 119 rpm."""
    share = lk.speed_fluctuation(56e3, 6500 * 1.8**2, 120 * np.pi / 30)
    assert 120 * (1 + share / 2) == printed("121")
    assert 120 * (1 - share / 2) == printed("119")


def test_16_2_running_up():
    """2500 kg, radius of gyration 1 m, a torque of 1500 N m from rest: 0.6 rad/s2, and 45 kN m after 10 s."""
    wheel = lk.Linkage({"O": 0, "A": 0.5}, {"ground": ("O",), "wheel": ("O", "A")}, "ground",
                       inputs=(lk.Input("wheel", "angle", "O", ("ground", "wheel")),))  # fmt: skip
    mass = lk.Mass(2500.0, at="O", inertia=2500.0)
    run = lk.run_up(wheel, 10.0, masses={"wheel": mass}, loads={"wheel": 1500.0})
    assert run.acceleration[0] == printed("0.6")
    assert 0.5 * 2500 * run.speed[-1] ** 2 / 1000 == printed("45.0")


def test_16_3_mass_of_a_flywheel():
    """300 kW at 90 rpm, a tenth of each turn's work, within 1 per cent, radius of gyration 2 m: 5628 kg."""
    work = 300e3 * 60 / 90
    flywheel = lk.flywheel_for(0.1 * work, 90 * np.pi / 30, 0.01)
    assert flywheel.mass(2.0) == drawn(5628, 0.05)  # pi cut off on the way


def test_16_4_areas():
    """5 N m by 1 degree to the mm2, 36 kg, radius of gyration 150 mm, 1800 rpm."""
    areas = [295, -685, 40, -340, 960, -270]
    assert lk.fluctuation_of_areas(areas) == 985
    energy = lk.fluctuation_of_areas(areas) * 5 * np.pi / 180
    assert 100 * lk.speed_fluctuation(energy, 36 * 0.15**2, 1800 * np.pi / 30) == printed("0.3")


def test_16_5_areas():
    """600 N m by 3 degrees to the mm2, 600 rpm within 1.5 per cent to either side, radius 500 mm."""
    areas = [52, -124, 92, -140, 85, -72, 107]
    assert lk.fluctuation_of_areas(areas) == 172
    energy = lk.fluctuation_of_areas(areas) * 600 * np.radians(3)
    assert lk.flywheel_for(energy, 600 * np.pi / 30, 0.03).mass(0.5) == drawn(182, 0.3)  # exactly 182.5


def test_single_cylinder_balance():
    """From memory: 240 rpm, stroke 300 mm, 50 kg reciprocating, 37 kg at 150 mm, two thirds, at 400 mm; 60 degrees."""
    found = lk.part_balance(
        crank=0.150, reciprocating=50, rotating=37, share=2 / 3, radius=0.400, speed=240 * np.pi / 30
    )
    assert found.mass == drawn(26.38, 0.05)  # exactly 26.375
    assert abs(found.residual(np.radians(60))) == pytest.approx(2849, abs=5)  # the print from memory
