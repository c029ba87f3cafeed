"""Velocities, accelerations and jerks against central differences in time, with every input moving at once."""

from functools import cache

import numpy as np
import pytest
from machines import ALL, RARE, cycle, moving, paces

import linkkit as lk
from tolerances import CLOSURE, DIFFERENCE

STEP = 5e-5  # s: a few tenths of a milliradian at the speeds used
STENCIL = np.array([1, -8, 8, -1]) / (12 * STEP)
each_machine = pytest.mark.parametrize("name", ALL)


@cache
def at(name, steps):
    """The machine so many steps of time from its positions."""
    return moving(ALL[name], after=steps * STEP)


def slope(name, quantity):
    """The rate of change in time of a quantity of a motion, by the difference of fourth order."""
    values = [quantity(at(name, k)) for k in (-2, -1, 1, 2)]
    return sum(w * x for w, x in zip(STENCIL, values, strict=True))


def agree(found, wanted):
    """Equal but for what a difference leaves, in units of the largest value of the cycle or of the pace."""
    assert np.isfinite(found).all()
    assert np.max(abs(found - wanted)) < DIFFERENCE * max(np.max(abs(wanted)), 10.0)


@each_machine
def test_points(name):
    motion = at(name, 0)
    for point in ALL[name].points:
        agree(motion.velocity(point), slope(name, lambda m, p=point: m.point(p)))
        agree(motion.acceleration(point), slope(name, lambda m, p=point: m.velocity(p)))
        agree(lk.jerk(motion, point), slope(name, lambda m, p=point: m.acceleration(p)))


@each_machine
def test_links(name):
    motion = at(name, 0)
    for link in ALL[name].moving:
        agree(1j * motion.angular_velocity(link) * motion.rotation(link), slope(name, lambda m, k=link: m.rotation(k)))
        agree(motion.angular_acceleration(link), slope(name, lambda m, k=link: m.angular_velocity(k)))
        agree(lk.angular_jerk(motion, link), slope(name, lambda m, k=link: m.angular_acceleration(k)))


@pytest.mark.parametrize("name", [n for n, machine in ALL.items() if machine.slides])
def test_slides(name):
    """The rate of the distance, its rate, and the rest of the block's acceleration: guide, Coriolis, sliding."""
    motion = at(name, 0)
    for s in ALL[name].slides:
        found = lk.sliding(motion, s.name)
        agree(found.speed, slope(name, lambda m, s=s: m.displacement(s.name)))
        agree(found.acceleration, slope(name, lambda m, s=s: lk.sliding(m, s.name).speed))
        spot = motion.place(s.block, s.through)
        parts = motion.acceleration_at(s.on, spot) + found.coriolis + found.acceleration * found.along
        whole = motion.acceleration_at(s.block, spot)
        assert np.max(abs(parts - whole)) < 100 * CLOSURE * np.max(abs(whole), initial=1.0)


@each_machine
def test_pins_turn_as_their_links_do(name):
    motion = at(name, 0)
    for pair in ALL[name].pairs:
        if pair.kind == "turning":
            a, b = pair.links
            found = lk.turning(motion, pair.at, (a, b))
            turned = lambda m, a=a, b=b: m.rotation(b) / m.rotation(a)  # noqa: E731
            agree(1j * found.speed * turned(motion), slope(name, turned))
            assert found.rubbing(0.01) == pytest.approx(0.01 * abs(found.speed))


@each_machine
def test_another_speed_solves_no_geometry(name):
    """The coefficients are the same arrays; twice the speed and four times the acceleration follow from them."""
    linkage = ALL[name]
    speed, acceleration = paces(linkage)
    motion = at(name, 0)
    other = motion.with_speed({k: 2 * v for k, v in speed.items()}, {k: 4 * a for k, a in acceleration.items()})
    assert other.rates is motion.rates
    for point in linkage.points:
        assert other.velocity(point) == pytest.approx(2 * motion.velocity(point), rel=CLOSURE)
        assert other.acceleration(point) == pytest.approx(4 * motion.acceleration(point), rel=CLOSURE)


@pytest.mark.parametrize("name", RARE)
def test_a_family_of_one_moves_as_the_linkage(name):
    """Positions in a column: the axes of a family are carried through the elimination."""
    linkage = RARE[name]
    values = cycle(linkage, 6)
    flat, column = lk.move(linkage, values, speed=3.0), lk.move(linkage, values[:, None], speed=3.0)
    for point in linkage.points:
        assert column.acceleration(point).shape == (6, 1)
        assert column.acceleration(point)[:, 0] == pytest.approx(flat.acceleration(point), rel=100 * CLOSURE)


def test_a_point_keeps_its_rates_where_a_later_link_has_none():
    """The crank pin of a linkage at its dead centre moves as the crank does, though coupler and rocker do not."""
    closer = lk.machine("hatch-closer")
    end = lk.reach(closer).here[0]
    motion = lk.move(closer, [end], speed=2.0)
    assert motion.velocity("A") == pytest.approx(2j * (motion.point("A") - motion.point("O")))
    assert np.isnan(motion.velocity("B")).all()
