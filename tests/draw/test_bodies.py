"""Free bodies as drawn: arrows to scale and in the direction of the forces, and the sums of what is said are zero."""

import re

import numpy as np
import pytest
from lettering import collisions

import linkkit as lk
from linkkit.draw import free_body_picture
from linkkit.draw.labels import sample
from linkkit.draw.scene import Path, flat


@pytest.fixture
def engine():
    motion = lk.move(lk.slider_crank(0.05, 0.2), speed=100.0)
    return lk.forces(motion, masses={"slider": 0.5, "rod": 0.4}, gravity=9.81)


def arrows(scene):
    """The drawn vector of each named arrow, in pixels."""
    lines = [s for s, *_ in flat(scene.shapes) if isinstance(s, Path) and s.layer == "motion" and s.name]
    return {s.name: (s.points[1] - s.points[0]) / scene.px for s in lines}


@pytest.mark.parametrize("at", [0, 40, 215])
def test_arrows_have_the_direction_and_the_scale_of_the_forces(engine, at):
    drawn = arrows(free_body_picture(engine, "rod", at))
    scale = abs(drawn["crank at A"]) / abs(engine.pin("A")[at])
    for a in engine.free_body("rod").forces:
        force = complex(np.broadcast_to(a.force, (360,))[at])
        if abs(force) * scale > 17:
            assert drawn[a.name] == pytest.approx(force * scale, rel=1e-9)


def sums(words):
    """The sums of forces and of moments about the origin as said (three figures), the greatest force and arm."""
    words = words.replace("−", "-")
    forces = re.findall(r": ([\d.]+) N at ([\d.]+)°, acting at \(([-\d.]+), ([-\d.]+)\) mm", words)
    moments = re.findall(r"a moment of ([\d.]+) N m, (anti)?clockwise", words)
    vectors = np.array([float(f) * np.exp(1j * np.radians(float(a))) for f, a, *_ in forces])
    arms = np.array([complex(float(x), float(y)) / 1000 for *_, x, y in forces])
    turn = (arms.conj() * vectors).imag.sum() + sum(float(m) if anti else -float(m) for m, anti in moments)
    return vectors.sum(), turn, abs(vectors).max(), abs(arms).max()


@pytest.mark.parametrize("link", ["crank", "rod", "slider"])
def test_what_is_said_is_in_balance(engine, link):
    force, turn, most, _ = sums(free_body_picture(engine, link, 40).description)
    assert abs(force) < 0.01 * most
    assert abs(turn) < 0.02 * most * 0.25


@pytest.mark.parametrize("name", ["crate-hoist", "steam-launch", "bilge-pump"])
def test_every_link_of_a_machine_is_in_balance_and_can_be_read(name):
    """With a ram, a turning guide and a turning block: what is said, what is drawn inside the picture, the letters."""
    machine = lk.machine(name)
    loads = [lk.SlideForce(s.name, -200.0) for s in machine.slides]
    masses = dict.fromkeys(machine.moving, 2.0)
    found = lk.forces(lk.move(machine, speed=3.0), masses=masses, loads=loads, gravity=9.81)
    for link in machine.moving:
        scene = free_body_picture(found, link, 40)
        force, turn, most, arm = sums(scene.description)
        assert abs(force) < 0.01 * most
        assert abs(turn) < 0.01 * most * arm
        assert not re.search(r"\D0\.0000", scene.description), "rounding is not told as a moment"
        assert collisions(scene) == []
        b, drawn = scene.bounds, sample(scene.shapes, scene.px)
        assert b.left < drawn.real.min() < drawn.real.max() < b.right
        assert b.bottom < drawn.imag.min() < drawn.imag.max() < b.top


def test_the_force_of_a_ram_is_drawn_on_what_is_drawn_of_it():
    hoist = lk.machine("crate-hoist")
    found = lk.forces(lk.move(hoist, speed=1.0), masses={"tray": 50.0}, gravity=9.81)
    for link, names in (("cylinder", ("link:cylinder",)), ("piston rod", ("link:piston rod",))):
        scene = free_body_picture(found, link, 40)
        (push,) = (s for s in scene.shapes if isinstance(s, Path) and s.name == "input ram")
        body = sample([g for g in scene.shapes if getattr(g, "name", "") in names], scene.px)
        assert min(abs(body - z).min() for z in push.points) < 12 * scene.px  # half a barrel's width, and the symbol's


def test_a_slide_reaction_acts_at_the_block(engine):
    words = free_body_picture(engine, "slider", 40).description
    b = engine.motion.point("B")[40]
    across = engine.pin("B", on="slider")[40].imag - 0.5 * 9.81  # what the guide must carry: rod and weight across it
    way = 270 if across > 0 else 90
    assert f"ground on slide: {abs(across):.1f} N at {way}°, acting at ({1000 * b.real:.0f}, 0) mm." in words
    assert "moment" not in words


def test_a_position_without_finite_forces_is_refused():
    toggle = lk.move(lk.four_bar(0.3, 0.2, 0.1, 0.25), speed=1.0)
    bad = int(np.flatnonzero(~toggle.ok)[0])
    with pytest.raises(lk.LinkageError):
        free_body_picture(lk.forces(toggle, masses={"coupler": 1.0}), "coupler", bad)


def test_a_force_along_a_slide_acts_at_its_block_and_pushes_are_drawn_outside():
    chopper = lk.machine("ice-chopper")
    found = lk.forces(lk.move(chopper), loads=[lk.SlideForce("guide", -200.0)])
    blade = free_body_picture(found, "blade", 135)
    (push,) = (s for s in blade.shapes if isinstance(s, Path) and s.name == "force along guide")
    assert push.points[0] == pytest.approx(found.motion.point("B")[135], abs=1e-12)
    rod = free_body_picture(found, "rod", 135)
    pins = {p: found.motion.point(p)[135] for p in "AB"}
    for name, p in (("crank at A", "A"), ("blade at B", "B")):
        (line,) = (s for s in rod.shapes if isinstance(s, Path) and s.name == name)
        assert line.points[1] == pytest.approx(pins[p], abs=1e-12)  # the rod is pressed: both arrows point at it
        other = pins["B" if p == "A" else "A"]
        assert abs(line.points[0] - other) > abs(line.points[1] - other)
