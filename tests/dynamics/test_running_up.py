"""Running up against energy, known solutions, and what happens at dead centres."""

import numpy as np
import pytest
from scipy.special import ellipk
from test_forces import crank_alone

import linkkit as lk
from tolerances import CLOSURE, DIFFERENCE

G = 9.81
BAR = lk.four_bar(0.4, 0.1, 0.35, 0.25)
MASSES = {"crank": 1.0, "coupler": 2.0, "rocker": 1.5}


def energy(run, masses):
    """Kinetic and potential energy along a run, from positions and velocities."""
    found = lk.forces(run.motion, masses=masses).masses
    total = 0.0
    for link, m in found.items():
        spot = run.motion.place(link, m.centre(run.motion.linkage, link))
        speed, turn = abs(run.motion.velocity_at(link, spot)), run.motion.angular_velocity(link)
        total = total + 0.5 * m.mass * speed**2 + 0.5 * m.inertia * turn**2 + m.mass * G * spot.imag
    return total


def test_pendulum_has_its_period():
    """A point mass on an arm let go 60 degrees from hanging: 4 K(sin 30) sqrt(l / g), the elliptic integral."""
    arm = crank_alone()
    period = 4 * np.sqrt(0.5 / G) * ellipk(np.sin(np.radians(30)) ** 2)
    run = lk.run_up(arm, period, masses={"arm": lk.Mass(2.0, at="A")}, gravity=G, start=np.radians(-30))
    assert run.finished
    assert run.input[-1] == pytest.approx(np.radians(-30), abs=DIFFERENCE)
    stops = [event.time for event in run.events]
    assert stops[0] == pytest.approx(period / 2, rel=DIFFERENCE)
    assert "turned back" in run.events[0].what


def test_energy_stays_without_losses():
    """A four-bar swinging under its weight for three seconds."""
    run = lk.run_up(BAR, 3.0, masses=MASSES, gravity=G, start=0.3, speed=2.0)
    total = energy(run, MASSES)
    assert np.ptp(total) < DIFFERENCE * np.max(abs(total))
    assert len(run.events) > 2


def test_work_becomes_energy():
    """A constant torque over the turn that it makes; and no other torque is needed at the crank."""
    run = lk.run_up(BAR, 0.5, masses=MASSES, loads={"crank": 8.0}, gravity=G)
    total = energy(run, MASSES)
    work = 8.0 * (run.input - run.input[0])
    assert total - total[0] == pytest.approx(work, abs=DIFFERENCE * np.max(work))
    forces = lk.forces(run.motion, masses=MASSES, loads={"crank": 8.0}, gravity=G)
    assert np.max(abs(forces.input_torque)) < 1000 * CLOSURE * np.max(abs(forces.kinetic_rate / run.speed.max()))
    assert run.input[-1] - run.input[0] > 2 * np.pi


def test_acceleration_is_that_of_the_run():
    run = lk.run_up(BAR, 0.2, masses=MASSES, loads={"crank": 8.0}, times=np.linspace(0, 0.2, 2001), accuracy=1e-12)
    step = run.time[1]
    slope = (run.speed[:-4] - 8 * run.speed[1:-3] + 8 * run.speed[3:-1] - run.speed[4:]) / (12 * step)
    assert np.max(abs(slope - run.acceleration[2:-2])) < 10 * DIFFERENCE * np.max(abs(slope))


def test_a_dead_centre_is_told():
    """A double-rocker's handle is pushed to the end of its range, and stops the run there."""
    closer = lk.machine("hatch-closer")
    handle = closer.inputs[0].name
    low, high = lk.reach(closer).here
    run = lk.run_up(closer, 5.0, masses=dict.fromkeys(closer.moving, 2.0), loads={handle: 40.0})
    assert not run.finished
    (event,) = run.events
    assert event.input == pytest.approx(high, abs=1e-5)
    assert "dead centre" in event.what
    assert "cannot pass" in event.what
    assert run.time[-1] <= event.time < 5.0
    assert (run.input < high).all()
    assert (run.input > low).all()


def test_a_weak_drive_does_not_pass_the_dead_centre():
    """An engine whose fading speed does not carry it over: it stops before, and swings back."""
    chopper = lk.machine("ice-chopper")
    run = lk.run_up(
        chopper, 1.0, masses={"blade": 5.0, "rod": 2.0}, gravity=G, start=np.radians(-60), speed=3.0,
        loads=[lk.Torque("crank", lambda angle, speed: -0.05 * speed)],
    )  # fmt: skip
    assert run.finished
    assert "came to rest" in run.events[0].what
    assert run.input.max() < np.radians(90)


@pytest.mark.parametrize(
    ("linkage", "given", "words"),
    [
        (BAR, {}, "no link has mass"),
        (BAR, {"masses": MASSES, "duration": 0.0}, "duration"),
        (BAR, {"masses": MASSES, "speed": "fast"}, "speed"),
        (lk.machine("hatch-closer"), {"masses": {"arm": 1.0}, "start": 3.0}, "cannot start there"),
    ],
)
def test_what_cannot_run(linkage, given, words):
    with pytest.raises(lk.LinkageError, match=words):
        lk.run_up(linkage, **({"duration": 1.0} | given))
