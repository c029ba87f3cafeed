"""Free bodies as drawn: arrows to scale and in the direction of the forces, and the sums of what is said are zero."""

import re

import numpy as np
import pytest

import linkkit as lk
from linkkit.draw import free_body_picture
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


@pytest.mark.parametrize("link", ["crank", "rod", "slider"])
def test_what_is_said_is_in_balance(engine, link):
    """Read back from the words (three figures): the forces and their moments about the origin add up to nothing."""
    words = free_body_picture(engine, link, 40).description.replace("−", "-")
    forces = re.findall(r": ([\d.]+) N at ([\d.]+)°, acting at \(([-\d.]+), ([-\d.]+)\) mm", words)
    moments = [float(m) for m in re.findall(r"a moment of ([-\d.]+) N m", words)]
    vectors = [float(f) * np.exp(1j * np.radians(float(a))) for f, a, *_ in forces]
    arms = [complex(float(x), float(y)) / 1000 for *_, x, y in forces]
    most = max(map(abs, vectors))
    turn = sum((z.conjugate() * f).imag for z, f in zip(arms, vectors, strict=True)) + sum(moments)
    assert abs(sum(vectors)) < 0.01 * most
    assert abs(turn) < 0.02 * most * 0.25


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
