"""A course sheet's slider-crank in inches: crank 10, rod 20 (the only lengths that give all three answers), 1 rad/s."""

import numpy as np

import linkkit as lk
from tolerances import printed

INCH = 0.0254


def test_position_and_rates_at_45_degrees():
    """The sheet measures the rod's angle at the slider, and gives rates without a sign."""
    motion = lk.move(lk.slider_crank(10 * INCH, 20 * INCH), np.radians(45), speed=1.0)
    assert np.degrees(motion.angle("rod")) + 180 == printed("159.295")
    assert abs(motion.velocity("B")) / INCH == printed("9.744")
    assert abs(motion.angular_velocity("rod")) == printed("0.378")
