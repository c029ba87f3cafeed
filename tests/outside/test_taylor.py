"""Harmonics of the slider-crank: C. F. Taylor, The Internal-Combustion Engine in Theory and Practice II, from memory.

The acceleration towards the crank is r w^2 (cos t + A2 cos 2t + A4 cos 4t + A6 cos 6t + ...). Each printed entry is
reproduced by an independent quadrature, whose digits stand beside it.
"""

import numpy as np
import pytest

import linkkit as lk
from tolerances import printed

TABLE = {
    3.0: (("0.3431", "-0.0101", "0.0003"), ("0.343108577285", "-0.0100990791524", "0.000334432153")),
    3.5: (("0.2918", "-0.0062", "0.0001"), ("0.291779539824", "-0.00621053639627", "0.000148719600")),
    4.0: (("0.2540", "-0.0041", "0.0001"), ("0.254025042307", "-0.00409811117203", "0.0000743790328")),
    4.5: (("0.2250", "-0.0028", "0.0000"), ("0.22503110387", "-0.0028488944661", "0.0000405757958")),
    5.0: (("0.2020", "-0.0021", "0.0000"), ("0.202038398638", "-0.00206180417757", "0.0000236709813")),
}


@pytest.mark.parametrize("ratio", TABLE)
def test_harmonics(ratio):
    motion = lk.move(lk.slider_crank(1.0, ratio), np.arange(512) * 2 * np.pi / 512, speed=1.0)
    harmonics = np.fft.rfft(-motion.acceleration("B").real).real / 256
    by_table, by_quadrature = TABLE[ratio]
    assert harmonics[1] == pytest.approx(1)
    for order, text, digits in zip((2, 4, 6), by_table, by_quadrature, strict=True):
        assert harmonics[order] == printed(text)
        assert harmonics[order] == printed(digits)
