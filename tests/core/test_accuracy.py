"""The accuracy that docs/accuracy.md promises, against a second route in extended precision."""

import numpy as np
import pytest

import linkkit as lk
from tolerances import CLOSURE

PROMISE = 2e-14  # of the longest link, over the sine of the transmission angle: some 90 roundings of 2.2e-16


def family(count, seed=7):
    """Lengths that close, from 50 mm to 1 m, by the triangle inequality on the extreme distances of the crank pin."""
    ground, crank, coupler, rocker = np.random.default_rng(seed).uniform(0.05, 1.0, (4, count))
    near = np.maximum(abs(ground - crank), abs(coupler - rocker))
    good = near < np.minimum(ground + crank, coupler + rocker)
    return ground[good], crank[good], coupler[good], rocker[good]


def joint(ground, crank, coupler, rocker, angle):
    """The open joint B in extended precision: two circles intersected in x and y."""
    g, r, a, c, t = (np.asarray(x, dtype=np.longdouble) for x in (ground, crank, coupler, rocker, angle))
    ax, ay = r * np.cos(t), r * np.sin(t)
    dx, dy = g - ax, -ay
    d2 = dx * dx + dy * dy
    along = (d2 + a * a - c * c) / (2 * d2)
    across = np.sqrt(np.maximum(a * a / d2 - along * along, 0))
    return ax + dx * along - dy * across, ay + dy * along + dx * across


@pytest.mark.parametrize("from_limit", [None, 1e-2, 1e-4, 1e-6, 1e-8, 1e-10])
def test_error_grows_only_as_the_sine_of_the_transmission_angle_falls(from_limit):
    sizes = family(40_000)
    ground, crank, coupler, rocker = sizes
    angle = np.random.default_rng(8).uniform(0, 2 * np.pi, len(ground))
    if from_limit:  # the crank pin at almost the full reach of coupler and rocker
        apart = (coupler + rocker) * (1 - from_limit)
        cosine = (ground**2 + crank**2 - apart**2) / (2 * ground * crank)
        angle = np.where(abs(cosine) < 1, np.arccos(np.clip(cosine, -1, 1)), angle)
    motion = lk.move(lk.four_bar(*sizes), angle)
    longest, b, a = np.maximum.reduce(sizes), motion.point("B"), motion.point("A")
    x, y = joint(*sizes, angle)
    error = np.hypot(b.real - x, b.imag - y).astype(float) / longest
    sine = abs(((a - b) * np.conj(ground - b)).imag) / (abs(a - b) * abs(ground - b))
    checked = motion.ok & (sine > 1e-7)
    assert checked.sum() > 10_000
    assert np.all(motion.residual[motion.ok] <= CLOSURE * longest[motion.ok])
    assert np.all(error[checked] * sine[checked] <= PROMISE), (error * sine)[checked].max()
