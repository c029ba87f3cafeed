"""What must hold for every linkage and every solver, whatever the numbers."""

from itertools import combinations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from images import Image

import linkkit as lk
from linkkit.transmission import angles
from strategies import FAMILIES, FULL_TURN
from tolerances import CLOSURE, DIFFERENCE

ANGLES = st.floats(-np.pi, np.pi)
STEEP = 1000  # a rate divides by the sine of the transmission angle, an acceleration by its cube: 5 degrees off 0
STENCIL = np.array([-2, -1, 1, 2]) * 5e-4  # radians, of the central difference of fourth order
WEIGHTS = np.array([1, -8, 8, -1]) / 6
each_family = pytest.mark.parametrize("family", FAMILIES)


def drawn_linkages(family):
    """A linkage of a family, for use inside a test."""
    return FAMILIES[family]


def longest(linkage):
    """The greatest distance between two points of one link, metres."""
    return max(linkage.length(*ends) for carried in linkage.links.values() for ends in combinations(carried, 2))


def clear(motion, degrees=1.0):
    """Where the linkage is assembled and every transmission angle is more than so many degrees off 0 and 180."""
    square = np.min([np.sin(angle) for angle in angles(motion)], axis=0)
    return motion.ok & (square > np.sin(np.radians(degrees)))


def calm(linkage, theta):
    """Where no link turns more than four times as fast as the crank: a difference is too coarse for more."""
    unit = lk.move(linkage, theta, speed=1.0)
    return np.max([abs(unit.angular_velocity(link)) for link in linkage.moving], axis=0) < 4


@each_family
@given(data=st.data())
def test_every_pair_closes(family, data):
    """Each point is in one place whichever of its links carries it there; each block keeps to its line."""
    linkage = data.draw(drawn_linkages(family))
    motion = lk.move(linkage, steps=72)
    good, size = clear(motion), longest(linkage)
    assert motion.ok[good].all()
    assert np.max(motion.residual[good], initial=0) < CLOSURE * size
    for name, carriers in linkage.carriers.items():
        spots = [motion.place(link, linkage.points[name])[good] for link in carriers]
        for one, two in combinations(spots, 2):
            assert np.max(abs(one - two), initial=0) < CLOSURE * size
    for slide in linkage.slides:
        gap = motion.place(slide.block, slide.through) - motion.place(slide.on, slide.through)
        across = (gap * np.conj(motion.rotation(slide.on) * slide.direction)).imag
        assert np.max(abs(across[good]), initial=0) < CLOSURE * size


@each_family
@given(data=st.data())
def test_links_are_rigid(family, data):
    """The distance between any two points of a link never changes."""
    linkage = data.draw(drawn_linkages(family))
    motion = lk.move(linkage, steps=72)
    good = clear(motion)
    for carried in linkage.links.values():
        for p, q in combinations(carried, 2):
            now = abs(motion.point(q) - motion.point(p))[good]
            assert np.max(abs(now - linkage.length(p, q)), initial=0) < CLOSURE * longest(linkage)


@each_family
@given(data=st.data())
def test_crank_has_the_angle_of_the_input(family, data):
    """The crank points where the input says, also beyond a turn."""
    linkage = data.draw(drawn_linkages(family))
    motion = lk.move(linkage, np.linspace(-7, 7, 50))
    turned = np.exp(1j * motion.angle("crank")) - np.exp(1j * motion.input)
    assert np.max(abs(turned[motion.ok]), initial=0) < CLOSURE


@pytest.mark.parametrize("family", FULL_TURN)
@given(data=st.data())
def test_what_turns_fully_assembles_everywhere(family, data):
    """By Grashof's law, and by the bounds on rods and offsets with which the linkage was made."""
    assert lk.move(data.draw(drawn_linkages(family)), steps=72).ok.all()


@each_family
@given(data=st.data())
def test_sketch_is_a_position_of_the_motion(family, data):
    """At the sketched input every point lies where it was drawn: the motion is on the sketched circuit."""
    linkage = data.draw(drawn_linkages(family))
    at = np.angle(linkage.points["A"] - linkage.points["O"])
    motion = lk.move(linkage, at)
    for name, z in linkage.points.items():
        assert abs(motion.point(name) - z) < CLOSURE * longest(linkage)


IMAGES = {
    "turned": st.builds(lambda a: Image(np.exp(1j * a)), ANGLES),
    "scaled": st.builds(lambda k: Image(complex(k)), st.floats(0.01, 100)),
    "shifted": st.builds(lambda x, y: Image(shift=complex(x, y)), st.floats(-1, 1), st.floats(-1, 1)),
    "mirrored": st.builds(lambda a: Image(np.exp(1j * a), mirrored=True), ANGLES),
    "all at once": st.builds(lambda k, a: Image(k * np.exp(1j * a), 0.1 - 0.2j, True), st.floats(0.1, 10), ANGLES),
}


@each_family
@pytest.mark.parametrize("image", IMAGES)
@given(data=st.data())
def test_image_of_the_motion_is_motion_of_the_image(family, image, data):
    """A linkage turned, scaled, shifted or mirrored moves as the image of the first: places, speeds, accelerations."""
    linkage, image = data.draw(drawn_linkages(family)), data.draw(IMAGES[image])
    speed = -3.0 if image.mirrored else 3.0
    before = lk.move(linkage, steps=12, speed=3.0)
    after = lk.move(image.of(linkage), image.turn(before.input), speed=speed)
    good = clear(before, degrees=5)
    assert after.ok[good].all()
    size = abs(image.factor) * longest(linkage) + abs(image.shift)
    for name in linkage.points:
        far = np.max(abs(image.point(before.point(name)) - after.point(name))[good], initial=0)
        assert far < CLOSURE * size
        for rate in ("velocity", "acceleration"):
            one, two = image.vector(getattr(before, rate)(name))[good], getattr(after, rate)(name)[good]
            assert np.max(abs(one - two), initial=0) <= STEEP * CLOSURE * np.max(abs(one), initial=size)


@each_family
@given(data=st.data())
def test_inversion_keeps_relative_motion(family, data):
    """Whichever link is fixed, the links stand to one another as before; and fixing the first again undoes it."""
    linkage = data.draw(drawn_linkages(family))
    fixed = data.draw(st.sampled_from([link for link in linkage.links if link != "ground"]))
    inverted = linkage.with_fixed(fixed)
    assert inverted.with_fixed("ground") == linkage
    assert inverted.fixed == fixed
    before = lk.move(linkage, steps=24)
    after = lk.move(inverted, inverted_input(linkage, fixed, before.input))
    good = clear(before, degrees=3)
    assert after.ok[good].all()
    for name, z in linkage.points.items():
        seen = np.conj(before.rotation(fixed)) * (before.point(name) - before.place(fixed, 0j))
        assert np.max(abs(seen - after.point(name))[good], initial=0) < CLOSURE * reach(linkage), (name, z)


def inverted_input(linkage, fixed, values):
    """The input that puts the inversion where the linkage is: with the crank fixed, the ground turns back from it."""
    if fixed != "crank":
        return values
    crank, ground = (linkage.heading(link) for link in ("crank", "ground"))
    return np.angle(ground) - (values - np.angle(crank))


def reach(linkage):
    """The size of the sketch, metres."""
    return max(abs(z) for z in linkage.points.values())


@each_family
@given(data=st.data(), speed=st.floats(-30, 30), acceleration=st.floats(-300, 300))
def test_rates_are_differences_in_time(family, data, speed, acceleration):
    """Velocity and acceleration against differences of places and velocities over a short time."""
    linkage = data.draw(drawn_linkages(family))
    theta = np.arange(24) * np.pi / 12 + 0.1
    pace = max(1.0, abs(speed), np.sqrt(abs(acceleration)))
    now = lk.move(linkage, theta, speed=speed, acceleration=acceleration)
    times = STENCIL / pace
    then = [lk.move(linkage, theta + (speed + acceleration * t / 2) * t, speed=speed + acceleration * t) for t in times]
    good = np.all([clear(motion, degrees=30) for motion in (now, *then)], axis=0) & calm(linkage, theta)
    for name in linkage.points:
        for power, rate, value in ((1, "velocity", "point"), (2, "acceleration", "velocity")):
            slope = WEIGHTS @ [getattr(motion, value)(name)[good] for motion in then] / times[-1]
            off = getattr(now, rate)(name)[good] - slope
            assert np.max(abs(off), initial=0) < DIFFERENCE * reach(linkage) * pace**power


@each_family
@given(data=st.data(), speed=st.floats(-30, 30), factor=st.floats(-5, 5))
def test_speed_scales_velocities_and_accelerations(family, data, speed, factor):
    """At constant input speed, velocities grow with it and accelerations with its square; positions stay."""
    motion = lk.move(data.draw(drawn_linkages(family)), steps=12, speed=speed)
    faster = motion.with_speed(speed * factor)
    good = clear(motion)
    for name in motion.linkage.points:
        assert np.array_equal(faster.point(name)[good], motion.point(name)[good])
        for rate, scaled in (("velocity", factor), ("acceleration", factor**2)):
            one, two = scaled * getattr(motion, rate)(name)[good], getattr(faster, rate)(name)[good]
            assert np.max(abs(one - two), initial=0) <= CLOSURE * np.max(abs(one), initial=1e-300)
