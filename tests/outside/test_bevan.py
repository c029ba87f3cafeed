"""T. Bevan, The Theory of Machines: examples worked on drawings; each with an exact recomputation beside it."""

import numpy as np
import pytest
from linkages import inversion_input

import linkkit as lk
from strategies import quick_return
from tolerances import drawn, printed

RPM = 2 * np.pi / 60
INCH, FOOT = 0.0254, 0.3048


def test_p98_four_bar():
    """2.5, 7, 4.5 on 8 in, crank at 60 degrees and 100 rpm."""
    motion = lk.move(lk.four_bar(8 * INCH, 2.5 * INCH, 7 * INCH, 4.5 * INCH), np.radians(60), speed=100 * RPM)
    rocker, coupler = (abs(motion.angular_acceleration(link)) for link in ("rocker", "coupler"))
    assert (rocker, coupler) == (drawn(50.9, 1), drawn(24.7, 4))
    assert (rocker, coupler) == (printed("50.601966"), printed("25.625408"))
    speed = abs(motion.velocity("B")) / FOOT
    # the book's 1.47 is 1.2 per cent off, more than the 1 at which it is graded: only the exact value is held
    assert speed == printed("1.487180")


def test_p110_lever_with_coriolis_component():
    """Centres 8, crank 4 in at 60 rpm, 120 degrees at the crank's centre."""
    motion = lk.move(quick_return(8 * INCH, 4 * INCH), np.radians(120), speed=60 * RPM)
    rate, change = abs(motion.angular_velocity("lever")), abs(motion.angular_acceleration("lever"))
    assert (rate, change) == (drawn(1.77, 1.5), drawn(4.23, 1.5))
    assert (rate, change) == (printed("1.79519580"), printed("4.18644643"))


def test_p112_rotary_engine():
    """Crank 3 in fixed, rod 9 in, cylinders at 1200 rpm, cylinder 55 degrees from the crank."""
    engine, speed = lk.slider_crank(3 * INCH, 9 * INCH), 1200 * RPM
    motion = lk.move(engine.with_fixed("crank"), inversion_input(engine, np.radians(55)), speed=speed)
    sliding = abs(motion.velocity("B") - 1j * speed * (motion.point("B") - motion.point("O"))) / FOOT
    coriolis = 2 * sliding * speed
    rod = [abs(motion.angular_velocity("rod")), abs(motion.angular_acceleration("rod"))]
    assert sliding == drawn(30.9, 1.5)
    assert coriolis == drawn(7764, 1.5)
    assert rod == [drawn(150.0, 1.5), drawn(4369, 1.5)]
    assert sliding == printed("30.848995")
    assert coriolis == printed("7753.198")
    assert rod == [printed("150.638677"), printed("4305.12464")]


def test_coriolis_component_of_a_block_on_a_turning_arm():
    """2 v w = 2 x 1.5 x 20 = 60 m/s2, square to the arm; the rest of the acceleration is towards the pivot."""
    linkage = lk.Linkage(
        {"O": 0j, "T": 1 + 0j, "B": 0.4 + 0j},
        {"ground": ("O",), "arm": ("O", "T"), "block": ("B",)},
        "ground",
        slides=(lk.Slide("slide", "block", "arm", 0j, 1 + 0j),),
        inputs=(
            lk.Input("turn", "angle", "O", ("ground", "arm")),
            lk.Input("push", "distance", "slide", ("arm", "block")),
        ),
    )
    motion = lk.move(linkage, np.radians(70), speed={"turn": 20.0, "push": 1.5})
    seen = motion.acceleration("B") * np.exp(-1j * np.radians(70))
    assert seen.imag == pytest.approx(60)
    assert seen.real == pytest.approx(-(20.0**2) * 0.4)


def test_p500_single_cylinder_balance():
    """Pounds and feet: 180 turning and 150 to and fro at 7.5 in, half of them balanced at 6 in, 300 rpm, g 32.2."""
    found = lk.part_balance(
        crank=7.5 / 12, reciprocating=150 / 32.2, rotating=180 / 32.2, share=0.5, radius=0.5, speed=300 * np.pi / 30
    )
    assert 32.2 * found.mass == drawn(318.8, 0.05)  # exactly 318.75
    assert found.along == printed("1436", units=1)
    assert found.across == printed("1436", units=1)
