"""Polygons and instant centres as drawn, held against the motion; and the way stages add up."""

import itertools

import numpy as np
import pytest
from lettering import collisions

import linkkit as lk
from linkkit.draw import centres_picture, polygon_picture
from linkkit.draw.centres import clipped
from linkkit.draw.scene import Bounds, Path, flat
from linkkit.draw.symbols import hull

SPEEDS = {"net-shaker": 4.0, "brine-lift": 1.0, "boatshed-shaper": 6.0, "crate-hoist": 1.0, "ice-chopper": 20.0,
          "fish-press": 5.0, "steam-launch": 30.0}  # fmt: skip


@pytest.mark.parametrize("name", SPEEDS)
@pytest.mark.parametrize("kind", ["velocity", "acceleration"])
def test_images_lie_where_the_motion_says(name, kind):
    motion = lk.move(lk.machine(name), speed=SPEEDS[name])
    drawing = polygon_picture(motion, 40, kind=kind)
    value = motion.velocity if kind == "velocity" else motion.acceleration
    most = max(abs(value(p)[40]) for p in motion.linkage.points)
    for point in motion.linkage.points:
        z = value(point)[40]
        if abs(z) > 1e-6 * most:
            assert abs(drawing.points[point.lower()] - z) < 1e-9 * most, point
    assert collisions(drawing.picture()) == []


def test_a_line_known_in_direction_is_drawn_without_its_arrow_until_it_closes():
    drawing = polygon_picture(lk.move(lk.four_bar(0.4, 0.12, 0.35, 0.25), speed=10.0), 60)
    heads = [[s for s in stage.shapes if isinstance(s, Path) and s.fill == "ink"] for stage in drawing.stages]
    assert [len(h) for h in heads] == [1, 0, 2, 0]
    assert "b" not in drawing.stages[1].found
    assert "b" in drawing.stages[2].found
    assert "not known yet" in drawing.stages[1].words
    assert "the polygon closes" in drawing.stages[2].words


def test_coriolis_is_named_where_a_guide_turns():
    drawing = polygon_picture(lk.move(lk.machine("boatshed-shaper"), speed=6.0), 40, kind="acceleration")
    assert any("Coriolis" in stage.words for stage in drawing.stages)


def test_a_point_on_the_lever_is_named_only_where_its_lines_close():
    """It moves with the lever: (i alpha - w squared) times the arm from Q."""
    motion, k = lk.move(lk.machine("boatshed-shaper"), speed=6.0), 40
    drawing = polygon_picture(motion, k, kind="acceleration")
    w, alpha = (x[k] for x in (motion.angular_velocity("lever"), motion.angular_acceleration("lever")))
    expected = (1j * alpha - w * w) * (motion.point("A")[k] - motion.linkage.points["Q"])
    named = [n for n, stage in enumerate(drawing.stages, 1) if "a on lever" in stage.found]
    assert named == [next(n for n, stage in enumerate(drawing.stages, 1) if "closes" in stage.words)]
    assert drawing.points["a on lever"] == pytest.approx(expected)


def test_what_cannot_be_drawn_is_said():
    motion = lk.move(lk.four_bar(0.4, 0.12, 0.35, 0.25))
    with pytest.raises(lk.LinkageError, match="give the motion a speed"):
        polygon_picture(motion, 60)
    with pytest.raises(lk.LinkageError, match="velocity or acceleration, not 'jerk'"):
        polygon_picture(motion, 60, kind="jerk")


@pytest.mark.parametrize("name", SPEEDS)
def test_centres_obey_the_theorem_of_three(name):
    """Of any three links the centres lie on one line (Aronhold 1872, Kennedy 1886)."""
    motion = lk.move(lk.machine(name), speed=1.0)
    drawing = centres_picture(motion, 40)
    digits = str.maketrans("₀₁₂₃₄₅₆₇₈₉", "0123456789")
    at = {tuple(map(int, n[1:].translate(digits))): z for n, z in drawing.points.items()}
    size = max(abs(z) for z in at.values())
    tried = 0
    for a, b, c in itertools.combinations(range(1, 10), 3):
        if {(a, b), (b, c), (a, c)} <= set(at):
            p, q, r = at[a, b], at[b, c], at[a, c]
            assert abs(((q - p) * np.conj(r - p)).imag) < 1e-9 * size * size
            tried += 1
    assert tried
    assert collisions(drawing.picture()) == []


def test_the_coupler_turns_about_its_centre():
    motion = lk.move(lk.four_bar(0.4, 0.12, 0.35, 0.25), speed=10.0)
    centre = centres_picture(motion, 60).points["I₁₃"]
    for point in "AB":
        arm = motion.point(point)[60] - centre
        assert motion.velocity(point)[60] == pytest.approx(1j * motion.angular_velocity("coupler")[60] * arm)


def test_a_centre_at_infinity_is_said():
    drawing = centres_picture(lk.move(lk.slider_crank(0.1, 0.3)), 50)
    assert "I₁₄ at infinity, square to the slide" in drawing.stages[0].words
    assert "I₁₄" not in drawing.points


def test_earlier_construction_lines_fade():
    drawing = centres_picture(lk.move(lk.machine("brine-lift")), 50)
    roles = [s.role for s, *_ in flat(drawing.picture(4).shapes) if isinstance(s, Path)]
    assert "faint" in roles
    assert roles.count("latest") == 2


def test_lines_are_clipped_to_the_picture():
    box = Bounds(-1, -1, 1, 1)
    assert clipped(0j, 1 + 1j, box) == (-1 - 1j, 1 + 1j)
    assert clipped(5j, 1 + 0j, box) == ()
    assert clipped(0.5j, -2 + 0j, box) == (1 + 0.5j, -1 + 0.5j)


def test_hull_of_few_points():
    assert hull([1 + 1j]) == [1 + 1j]
    assert hull([0j, 2 + 0j, 1 + 0j, 1 + 1j]) == [0j, 2 + 0j, 1 + 1j]
