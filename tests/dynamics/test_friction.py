"""Friction against equilibrium by hand, and where it locks."""

import numpy as np
import pytest
from test_forces import ENGINE, crank_alone

import linkkit as lk
from tolerances import CLOSURE

THETA = np.linspace(0.3, 2.8, 12)


def test_a_journal_resists_by_its_radius():
    """A turning arm that carries 100 N at its end: the pin's force is 100 N, its friction 0.2 x 0.01 x 100 N m."""
    motion = lk.move(crank_alone(), THETA, speed=1.0)
    plain = lk.forces(motion, loads={"A": -100j})
    rough = lk.forces(motion, loads={"A": -100j}, friction={"O": lk.Friction(0.2, radius=0.01)})
    assert rough.input_torque - plain.input_torque == pytest.approx(0.2 * 0.01 * 100, rel=100 * CLOSURE)
    back = lk.forces(motion.with_speed(-1.0), loads={"A": -100j}, friction={"O": lk.Friction(0.2, radius=0.01)})
    assert back.input_torque - plain.input_torque == pytest.approx(-0.2 * 0.01 * 100, rel=100 * CLOSURE)


def test_a_slide_resists_by_its_normal_force():
    """The rod carries F / (cos phi + mu sin phi) where a load F drives the piston against friction: any textbook."""
    motion = lk.move(ENGINE, THETA, speed=1.0)
    load, mu = -500.0, 0.15  # against the x axis; the piston moves that way, so the load drives and friction hinders
    forces = lk.forces(motion, loads={"slide": load}, friction={"slide": lk.Friction(mu)})
    phi = np.arcsin(0.1 * np.sin(THETA) / 0.4)
    rod = 500 / (np.cos(phi) + mu * np.sin(phi))
    assert abs(forces.pin("B")) == pytest.approx(rod, rel=100 * CLOSURE)
    assert forces.slide("slide").along == pytest.approx(mu * rod * np.sin(phi), rel=100 * CLOSURE)
    assert np.max(abs(forces.power_error)) < 1e-10
    assert forces.converged.all()


def test_friction_takes_power():
    """Whatever is given, friction's power is never positive, and equilibrium and the balance of power still hold."""
    shaper = lk.move(lk.machine("boatshed-shaper"), steps=60, speed=8.0)
    rough = {name: lk.Friction(0.12, radius=0.012) for name in ("O", "A", "Q", "L", "M")}
    rough |= {"ways": lk.Friction(0.1, length=0.2), "slot": lk.Friction(0.1)}
    masses = {"lever": 12.0, "link": 3.0, "ram": 25.0, "block": 1.0}
    forces = lk.forces(shaper, masses=masses, loads={"ways": -900.0}, gravity=9.81, friction=rough)
    assert forces.converged.all()
    assert np.max(abs(forces.power_error)) < 1e-10
    lost = sum(forces._power(a) for a in forces.applied if a.name.startswith("friction"))
    assert np.max(lost) <= 1e-9
    assert np.min(lost) < -10
    for link in shaper.linkage.moving:
        body = forces.free_body(link)
        size = max(np.max(abs(a.force)) for a in body.forces)
        assert np.max(abs(body.force_sum)) < 1e4 * CLOSURE * size


def wedge(degrees):
    """A block on a slide that leans by so much to the rod which pushes it; the rod is moved along by another slide."""
    lean = np.exp(1j * np.radians(degrees))
    links = {"ground": (), "pusher": ("A",), "rod": ("A", "B"), "block": ("B",)}
    slides = (
        lk.Slide("push", "pusher", "ground", 0j, 1 + 0j),
        lk.Slide("ramp", "block", "ground", 1 + 0j, complex(lean)),
    )
    drive = lk.Input("push", "distance", "push", ("ground", "pusher"), (-0.01, 0.01))
    return lk.Linkage({"A": 0j, "B": 1 + 0j}, links, "ground", slides, (drive,))


@pytest.mark.parametrize("degrees", [20, 50, 70])
def test_a_steep_slide_locks(degrees):
    """Pushed at an angle steeper than 90 degrees less the angle of friction, a block does not move: any textbook.

    With mu 0.6, 31 degrees, that is at 59. Below, the push for a load Q is Q / (cos a - mu sin a).
    """
    mu, a = 0.6, np.radians(degrees)
    forces = lk.forces(
        lk.move(wedge(degrees), [0.0], speed=0.1), loads={"ramp": -50.0}, friction={"ramp": lk.Friction(mu)}
    )
    locks = degrees > 90 - np.degrees(np.arctan(mu))
    assert forces.converged.tolist() == [not locks]
    if locks:
        assert np.isnan(forces.input_torque).all()
        assert any("locks" in note for note in forces.notes)
    else:
        assert forces.input_torque[0] == pytest.approx(50 / (np.cos(a) - mu * np.sin(a)), rel=100 * CLOSURE)


@pytest.mark.parametrize(("mu", "holds"), [(0.3, True), (0.1, False)])
def test_what_does_not_run_back(mu, holds):
    """A weight on a ramp of 10 degrees, held by a level push: W tan(a + phi) up, W tan(a - phi) down, by any textbook.

    With a friction angle of more than 10 degrees the weight does not come down by itself.
    """
    rough, phi, lean = {"ramp": lk.Friction(mu)}, np.arctan(mu), np.radians(10)
    motion = lk.move(wedge(10), [0.0], speed=0.1)
    up = lk.forces(motion, loads={"B": -100j}, friction=rough)
    down = lk.forces(motion.with_speed(-0.1), loads={"B": -100j}, friction=rough)
    assert up.input_torque[0] == pytest.approx(100 * np.tan(lean + phi), rel=100 * CLOSURE)
    assert down.input_torque[0] == pytest.approx(100 * np.tan(lean - phi), rel=100 * CLOSURE)
    assert down.self_locking.tolist() == [holds]
    assert any("run back" in note for note in down.notes) == holds
    assert not up.self_locking.any()
