"""Forces of random linkages: power, momentum, and what turning, mirroring and scaling make of them."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from images import Image
from test_motion_properties import clear, drawn_linkages, longest

import linkkit as lk
from strategies import FAMILIES
from tolerances import CLOSURE

ANGLES = st.floats(-np.pi, np.pi)
SPEED, PULL = 12.0, 3.0
STEEP = 1e5  # a pin force divides by the sine of the transmission angle, an acceleration by its cube: 5 degrees off 0
each_family = pytest.mark.parametrize("family", FAMILIES)


def weighed(draw, linkage):
    """A mass for every moving link: up to 3 kg, its centre within the size of the linkage."""
    size = longest(linkage)
    place = st.builds(complex, st.floats(-size, size), st.floats(-size, size))
    mass = st.builds(lambda m, z, k: lk.Mass(m, at=z, inertia=m * (k * size) ** 2),
                     st.floats(0.1, 3), place, st.floats(0, 0.5))  # fmt: skip
    return replace(linkage, masses={link: draw(mass) for link in linkage.moving})


def imaged(image, linkage):
    """The image of a linkage with its masses."""
    weights = {
        k: lk.Mass(m.mass, at=complex(image.point(m.at)), inertia=m.inertia * abs(image.factor) ** 2)
        for k, m in linkage.masses.items()
    }
    return replace(image.of(linkage), masses=weights)


@each_family
@given(data=st.data())
def test_power_and_momentum(family, data):
    """Power in is power out to 1e-10 of its peak; the frame feels the rate of change of momentum and no more."""
    linkage = weighed(data.draw, data.draw(drawn_linkages(family)))
    motion = lk.move(linkage, steps=48, speed=SPEED, acceleration=PULL)
    good = clear(motion, degrees=5)
    forces = lk.forces(motion, loads={linkage.moving[-1]: 2.0}, gravity=9.81)
    peak = np.max(abs(forces.input_power[good]), initial=0) + np.max(abs(forces.kinetic_rate[good]), initial=1e-9)
    error = forces.input_power + forces.load_power - forces.kinetic_rate
    assert np.max(abs(error[good]), initial=0) < 1e-10 * peak
    pushed = sum(
        m.mass * motion.acceleration_at(k, motion.place(k, m.centre(linkage, k))) for k, m in linkage.masses.items()
    )
    size = np.max(abs(pushed[good]), initial=1e-9)
    assert np.max(abs(forces.shaking_force + pushed)[good], initial=0) < STEEP * CLOSURE * size


IMAGES = {
    "turned": st.builds(lambda a: Image(np.exp(1j * a)), ANGLES),
    "scaled": st.builds(lambda k: Image(complex(k)), st.floats(0.1, 10)),
    "shifted": st.builds(lambda x, y: Image(shift=complex(x, y)), st.floats(-1, 1), st.floats(-1, 1)),
    "mirrored": st.builds(lambda a: Image(np.exp(1j * a), mirrored=True), ANGLES),
}


@each_family
@pytest.mark.parametrize("image", IMAGES)
@given(data=st.data())
def test_image_of_the_forces_is_forces_of_the_image(family, image, data):
    """Of the same masses at the same speed: forces go with the length, torques with its square; a mirror turns them."""
    linkage, image = weighed(data.draw, data.draw(drawn_linkages(family))), data.draw(IMAGES[image])
    sense = -1 if image.mirrored else 1
    one = lk.move(linkage, steps=12, speed=SPEED, acceleration=PULL)
    two = lk.move(imaged(image, linkage), image.turn(one.input), speed=sense * SPEED, acceleration=sense * PULL)
    before, after, good = lk.forces(one), lk.forces(two), clear(one, degrees=5)
    size = max(np.max(abs(x)[good], initial=0) for x in (before.shaking_force, before.pin("A"))) + 1e-9
    far = abs(image.vector(before.pin("A")) - after.pin("A"))[good]
    assert np.max(far, initial=0) < STEEP * CLOSURE * size * abs(image.factor)
    torque = sense * abs(image.factor) ** 2 * before.input_torque
    reach = size * abs(image.factor) * (longest(linkage) * abs(image.factor) + abs(image.shift))
    assert np.max(abs(torque - after.input_torque)[good], initial=0) < STEEP * CLOSURE * reach
