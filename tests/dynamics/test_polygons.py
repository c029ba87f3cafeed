"""Velocity and acceleration polygons: they close, stand in the drawing order, and hold an image of each link."""

from itertools import combinations

import numpy as np
import pytest
from machines import ALL, moving

import linkkit as lk
from tolerances import CLOSURE

each_machine = pytest.mark.parametrize("name", ALL)
KINDS = {"velocity": lk.velocity_polygon, "acceleration": lk.acceleration_polygon}


@each_machine
@pytest.mark.parametrize("kind", KINDS)
def test_polygon_closes(name, kind):
    """Each arrow starts at the pole or where another ends; the two lines known in direction meet; all points are there."""
    motion = moving(ALL[name])
    for position in (3, 11, 20):
        polygon = KINDS[kind](motion, position)
        size = max(abs(a.end) for a in polygon.arrows)
        reached = [0j]
        for one, two in zip(polygon.arrows, [*polygon.arrows[1:], None], strict=True):
            assert min(abs(one.start - z) for z in reached) < 100 * CLOSURE * size
            reached.append(one.end)
            if one.given == "direction":
                assert two.given == "closing"
                assert abs(one.end - two.end) < 1000 * CLOSURE * size
        for point, value in polygon.points.items():
            assert value == pytest.approx(getattr(motion, kind)(point)[position], abs=1000 * CLOSURE * size)
            assert min(abs(value - z) for z in reached) < 1000 * CLOSURE * size


@each_machine
def test_parts_have_their_directions(name):
    """Turning and tangential parts are square to the line that turns, normal parts along it, sliding ones along the slide."""
    motion = moving(ALL[name])
    for arrow in lk.velocity_polygon(motion, 5).arrows:
        if arrow.part == "turning" and " to " in arrow.name and " on " not in arrow.name:
            tip, base = (motion.point(p)[5] for p in arrow.name.split(" to ") if p in ALL[name].points)
            line = tip - base
            across = (np.conj(line) * (arrow.end - arrow.start)).real
            assert abs(across) < 100 * CLOSURE * abs(line) * max(abs(arrow.end), abs(arrow.start), 1)


@each_machine
def test_image_is_similar_to_the_link(name):
    """Velocities of a link's points lie to each other as the points do, turned by 90 degrees and scaled by its rate."""
    motion = moving(ALL[name])
    polygon = lk.velocity_polygon(motion, 7)
    for link in ALL[name].moving:
        rate = motion.angular_velocity(link)[7]
        for (p, v), (q, w) in combinations(polygon.image(link).items(), 2):
            line = motion.point(q)[7] - motion.point(p)[7]
            assert w - v == pytest.approx(1j * rate * line, abs=1000 * CLOSURE * max(abs(v), abs(w), 1e-3))


def test_known_comes_first():
    """For each chain: all known parts, then one direction, then the closing line, then images."""
    for name, linkage in ALL.items():
        for step in range(len(lk.breakdown(linkage)) + 1):
            polygon = lk.acceleration_polygon(moving(linkage), 4)
            given = [a.given for a in polygon.arrows if a.step == step]
            if "direction" in given:
                n = given.index("direction")
                assert given == ["known"] * n + ["direction", "closing"] + ["known"] * (len(given) - n - 2), name


def test_it_can_be_stepped_through():
    """After each arrow there is a polygon of so many arrows, and the points that it reaches."""
    polygon = lk.velocity_polygon(lk.move(lk.four_bar(0.4, 0.1, 0.35, 0.25), 1.0, speed=10.0))
    assert [len(polygon.upto(n).arrows) for n in range(4)] == [0, 1, 2, 3]
    assert set(polygon.upto(0).points) == {"O", "Q"}
    assert set(polygon.upto(1).points) == {"O", "Q", "A"}
    assert set(polygon.upto(3).points) == {"O", "Q", "A", "B"}
    assert "direction" in polygon.arrows[1].text


def test_coriolis_part_of_a_quick_return():
    """2 w v, square to the lever, by hand from the lever's rate and the block's sliding speed."""
    motion = lk.move(lk.machine("boatshed-shaper"), [0.4], speed=6.0)
    (part,) = [a for a in lk.acceleration_polygon(motion).arrows if a.part == "Coriolis"]
    slot = lk.sliding(motion, "slot")
    wanted = 2 * motion.angular_velocity("lever")[0] * slot.speed[0]
    assert abs(part.end - part.start) == pytest.approx(abs(wanted), rel=1000 * CLOSURE)
    assert (np.conj(slot.along[0]) * (part.end - part.start)).real == pytest.approx(0, abs=1e-9)


@pytest.mark.parametrize("kind", KINDS)
def test_no_polygon_where_there_is_no_rate(kind):
    closer = lk.machine("hatch-closer")
    with pytest.raises(lk.LinkageError, match="singular"):
        KINDS[kind](lk.move(closer, [lk.reach(closer).here[0]], speed=1.0))
    with pytest.raises(lk.LinkageError, match="not assembled"):
        KINDS[kind](lk.move(closer, [lk.reach(closer).here[0] - 0.2], speed=1.0))
