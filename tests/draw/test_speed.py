"""What a picture costs in the kernel; alone on the machine: `pytest -m speed`."""

import time

import numpy as np
import pytest

import linkkit as lk
from linkkit.draw import line_diagram
from linkkit.workbook.live import picture


def median_ms(work, times=40):
    """Processor time, so that what else the computer does counts little."""
    work()
    took = []
    for _ in range(times):
        began = time.process_time()
        work()
        took.append(time.process_time() - began)
    return 1000 * float(np.median(took))


@pytest.mark.speed
@pytest.mark.parametrize("fast", [True, False])
def test_a_new_length_of_the_hoist_is_drawn_in_5_ms(fast):
    hoist = lk.machine("crate-hoist")
    panel = picture(hoist, fast=fast)
    took = median_ms(lambda: panel.redraw(hoist, {}))
    print(f"new picture of the hoist, {'in the page' if fast else 'by the kernel'}: {took:.2f} ms")
    assert took < 5.0


@pytest.mark.speed
def test_painting_the_hoist_takes_little():
    scene = line_diagram(lk.machine("crate-hoist"))
    took = median_ms(scene.svg)
    print(f"SVG of the hoist: {took:.2f} ms")
    assert took < 2.0
