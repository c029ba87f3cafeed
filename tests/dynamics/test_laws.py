"""Laws that forces must keep for every machine, with all inputs moving and every sort of load."""

import numpy as np
import pytest
from machines import ALL, loads, masses, moving

import linkkit as lk
from tolerances import CLOSURE, DIFFERENCE

each_machine = pytest.mark.parametrize("name", ALL)
G = 9.81


def solved(name):
    linkage = ALL[name]
    motion = moving(linkage)
    return motion, lk.forces(motion, masses=masses(linkage), loads=loads(linkage), gravity=G)


@each_machine
def test_power_in_is_power_out(name):
    """Input power and the loads' power together are the rate of kinetic energy."""
    _, forces = solved(name)
    assert np.max(abs(forces.power_error)) < 1e-10
    assert np.max(abs(forces.input_power)) > 1


@each_machine
def test_every_link_is_in_equilibrium(name):
    """Newton's law for each link by itself: all forces and moments on it, its inertia among them, sum to nothing."""
    motion, forces = solved(name)
    for link in ALL[name].moving:
        body = forces.free_body(link)
        size = np.max([np.max(abs(a.force)) for a in body.forces])
        assert np.max(abs(body.force_sum)) < CLOSURE * size
        about = motion.place(link, 0.1 + 0.2j)
        assert np.max(abs(body.moment_sum(about))) < 10 * CLOSURE * size


@each_machine
def test_action_is_reaction(name):
    """What one link does to another at a pair, the other does to the one."""
    linkage, (_, forces) = ALL[name], solved(name)
    named = {link: {a.name: a for a in forces.free_body(link).forces} for link in linkage.links}
    alone = [p for p in linkage.pairs if p.kind == "sliding" or len(linkage.carriers[p.at]) == 2]
    for pair in alone:
        (one, two), word = pair.links, {"turning": "at", "sliding": "on"}[pair.kind]
        there, back = named[two][f"{one} {word} {pair.at}"], named[one][f"{two} {word} {pair.at}"]
        assert np.max(abs(there.force)) > 0
        assert np.max(abs(there.force + back.force)) == 0
        assert np.max(abs(there.moment + back.moment)) == 0


@each_machine
def test_shaking_force_is_the_rate_of_change_of_momentum(name):
    """By differences in time of the momentum and the moment of momentum, from positions alone."""
    linkage, step = ALL[name], 5e-5
    weights, times = masses(linkage), (-2, -1, 1, 2)
    momentum = [_momentum(moving(linkage, after=k * step), weights) for k in times]
    rate, turning = (np.array([1, -8, 8, -1]) @ np.array(x) / (12 * step) for x in zip(*momentum, strict=True))
    _, forces = solved(name)
    assert np.max(abs(forces.shaking_force + rate)) < DIFFERENCE * np.max(abs(rate))
    assert np.max(abs(forces.shaking_moment + turning)) < DIFFERENCE * np.max(abs(turning))


def _momentum(motion, weights):
    centres = {k: motion.place(k, m.centre(motion.linkage, k)) for k, m in weights.items()}
    speeds = {k: motion.velocity_at(k, z) for k, z in centres.items()}
    turning = sum(
        m.mass * (np.conj(centres[k]) * speeds[k]).imag + m.inertia * motion.angular_velocity(k)
        for k, m in weights.items()
    )
    return sum(m.mass * speeds[k] for k, m in weights.items()), turning


@each_machine
def test_static_input_by_virtual_work(name):
    """At rest under weight: the input does the work of the rise of the common centre of mass; positions alone."""
    linkage, step = ALL[name], 1e-4
    weights = masses(linkage)
    values = moving(linkage).input

    def energy(shift):
        motion = lk.move(linkage, values + shift)
        return sum(m.mass * G * motion.place(k, m.centre(linkage, k)).imag for k, m in weights.items())

    rise = (energy(-2 * step) - 8 * energy(-step) + 8 * energy(step) - energy(2 * step)) / (12 * step)
    found = lk.forces(lk.move(linkage, values), masses=weights, gravity=G).input_torque
    assert np.max(abs(found - rise)) < DIFFERENCE * np.max(abs(rise))


@each_machine
def test_another_speed_is_another_solution(name):
    """The weighted sum of unit terms is what solving afresh gives."""
    linkage = ALL[name]
    weights, pushes = masses(linkage), loads(linkage)
    motion = moving(linkage)
    one = lk.forces(motion, masses=weights, loads={linkage.moving[-1]: 2.0}, gravity=G)
    two = lk.forces(motion, masses=weights, loads=pushes, gravity=G)
    for first, given in ((one, {linkage.moving[-1]: 2.0}), (two, pushes)):
        first.input_torque  # noqa: B018 - the first speed is solved before the second is asked for
        other = {i.name: 3.0 for i in linkage.inputs}
        swift, fresh = (
            first.with_speed(other),
            lk.forces(motion.with_speed(other), masses=weights, loads=given, gravity=G),
        )
        assert swift.input_torque == pytest.approx(fresh.input_torque, rel=100 * CLOSURE, abs=100 * CLOSURE)
        assert swift.shaking_force == pytest.approx(fresh.shaking_force, rel=100 * CLOSURE, abs=100 * CLOSURE)


@each_machine
def test_superposition(name):
    """Without friction and loads of the motion, forces of two loads together are the sum of those of each."""
    motion = moving(ALL[name])
    point = list(ALL[name].points)[-1]
    link = ALL[name].moving[-1]
    both = lk.forces(motion, loads={point: 5 - 3j, link: 2.0}).input_torque
    parts = [lk.forces(motion, loads=given).input_torque for given in ({point: 5 - 3j}, {link: 2.0})]
    assert both == pytest.approx(sum(parts), rel=100 * CLOSURE, abs=100 * CLOSURE)
