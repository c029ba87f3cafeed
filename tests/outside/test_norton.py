"""R. L. Norton, Design of Machinery, McGraw-Hill: worked examples of chapters 4, 6 and 7, from memory.

Every printed digit is reproduced by an independent recomputation.
"""

import numpy as np
import pytest
from linkages import inverted_slider

import linkkit as lk
from tolerances import printed

# example 4-1 and those that go on with it: ground 100, crank 40, coupler 120, rocker 80; crank at 40 degrees
CIRCUITS = {
    "open": {"coupler": "20.298", "rocker": "57.325"},
    # the book's rocker, -98.01, rounds -98.005 the wrong way
    "crossed": {"coupler": "-60.98", "rocker": "-98.005"},
}
SPEED, ACCELERATION = 25.0, 15.0  # rad/s, rad/s2 of the crank


def four_bar(circuit):
    bar = lk.four_bar(0.100, 0.040, 0.120, 0.080, circuit)
    return lk.move(bar, np.radians(40), speed=SPEED, acceleration=ACCELERATION)


@pytest.mark.parametrize("circuit", CIRCUITS)
@pytest.mark.parametrize("link", ["coupler", "rocker"])
def test_example_4_1_position(circuit, link):
    angle = np.degrees(four_bar(circuit).angle(link))
    assert (angle + 180) % 360 - 180 == printed(CIRCUITS[circuit][link])


def test_examples_6_and_7_open_circuit():
    """rad/s and rad/s2."""
    motion = four_bar("open")
    assert motion.angular_velocity("coupler") == printed("-4.121")
    assert motion.angular_velocity("rocker") == printed("6.998")
    assert motion.angular_acceleration("coupler") == printed("296.089")
    assert motion.angular_acceleration("rocker") == printed("470.134")


def test_crossed_circuit_recomputed():
    """Not printed; an independent recomputation of the same linkage on its other circuit."""
    motion = four_bar("crossed")
    assert motion.angular_velocity("coupler") == printed("-9.25877230")
    assert motion.angular_velocity("rocker") == printed("-20.3776720")
    assert motion.angular_acceleration("coupler") == printed("597.622400")
    assert motion.angular_acceleration("rocker") == printed("423.578063")


def test_example_4_2_offset_slider_crank():
    """Crank 40, rod 120, offset -20, crank at 60 degrees; the book's rod angle is measured at the slider."""
    engine = lk.slider_crank(0.040, 0.120, -0.020)
    open_side = lk.move(engine, np.radians(60))
    assert 1000 * open_side.point("B").real == printed("126.84")
    assert np.degrees(open_side.angle("rod")) + 180 == printed("152.91")
    crossed = lk.algebra.slider_crank().function("crossed")
    found = crossed(crank=0.040, rod=0.120, offset=-0.020, crank_angle=np.radians(60))
    assert 1000 * found.slider_position == printed("-86.84")
    assert np.degrees(found.rod_angle) + 180 - 360 * (found.rod_angle > 0) == printed("27.09")


def test_example_4_2_other_circuit_by_the_sketch():
    """The same machine drawn with its slider on the other side stays there."""
    engine = lk.slider_crank(0.040, 0.120, -0.020)
    pin = engine.points["A"]
    other = engine.points | {"B": 2 * pin.real - engine.points["B"].real - 0.020j}
    motion = lk.move(lk.Linkage(other, engine.links, "ground", engine.slides, engine.inputs), np.radians(60))
    assert 1000 * motion.point("B").real == printed("-86.84")


@pytest.mark.parametrize(("circuit", "expected"), [("open", "142.67"), ("crossed", "-169.04")])
def test_example_4_3_inverted_slider_crank(circuit, expected):
    """Ground 6, crank 2 at 30 degrees, lever 4 square to the rod that slides in it.

    With the rod 90 degrees ahead of the lever QB, Q lies 4 to the left of the rod's line: offset -4, as the lever's
    foot B lies to its right.
    """
    motion = lk.move(inverted_slider(6, 2, -4, circuit), np.radians(30))
    place = lk.algebra.inverted_slider_crank().function(circuit)
    found = place(ground=6, crank=2, offset=-4, crank_angle=np.radians(30))
    for lever in (motion.angle("lever"), found.lever_angle - np.pi / 2):
        assert (np.degrees(lever) + 180) % 360 - 180 == printed(expected)


# table "optimum straightness" of Hoecken's linkage, unit crank: range and start of the crank's turn in degrees, ground,
# coupler = rocker, stroke, height in per cent of the stroke, greatest speed in crank lengths a radian
HOECKEN = [
    (20, 170, 2.975, "3.963", "0.601", "0.00001", "1.725"),
    (60, 150, 2.900, "3.850", "1.763", "0.00027", "1.702"),
    (80, 140, 2.825, "3.738", "2.299", "0.001", "1.679"),
    (120, 120, 2.625, "3.438", "3.238", "0.010", "1.611"),
    (140, 110, 2.500, "3.250", "3.623", "0.023", "1.565"),
    (180, 90, 2.200, "2.800", "4.181", "0.096", "1.436"),
]


@pytest.mark.parametrize(("span", "start", "ground", "bar", "stroke", "height", "speed"), HOECKEN)
def test_hoecken_table(span, start, ground, bar, stroke, height, speed):
    """The tracer is twice the coupler's length from the crank pin; stroke and speed may be cut off at the last digit.

    The table rounds coupler and rocker, (3 ground - 1) / 2, to three figures; the heights of its first rows need more.
    """
    length = (3 * ground - 1) / 2
    assert length == printed(bar, units=0.501)  # exactly half a unit in three rows
    linkage = lk.four_bar(ground, 1.0, length, length).with_point("coupler", "P", 2 * length)
    motion = lk.move(linkage, np.radians(np.linspace(start, start + span, 2001)), speed=1.0)
    tracer = motion.point("P")
    travelled = np.ptp(tracer.real)
    assert travelled == printed(stroke, units=1)
    assert abs(motion.velocity("P").real).max() == printed(speed, units=1)
    assert 100 * np.ptp(tracer.imag) / travelled == printed(height)
