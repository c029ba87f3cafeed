"""What is drawn lies where the machine says: the SVG read back and held against `move` and the sketch."""

import re
import xml.etree.ElementTree as ET

import numpy as np
import pytest

import linkkit as lk
from linkkit.draw import line_diagram
from linkkit.draw.cycle import nearest
from linkkit.draw.paint_svg import svg as paint
from linkkit.draw.scene import Group, Scene, Text, bounds_of

SVG = "{http://www.w3.org/2000/svg}"
ROUNDED = 0.0051  # the painter writes two decimals of a pixel

BARS = {
    "four-bar": lambda: lk.four_bar(0.4, 0.12, 0.35, 0.25).with_point("coupler", "P", 0.15, 0.1),
    "slider-crank": lambda: lk.slider_crank(0.1, 0.35, 0.03),
    "fixed slider": lambda: lk.slider_crank(0.1, 0.35, 0.03).with_fixed("slider"),
    "fixed rod": lambda: lk.slider_crank(0.1, 0.35).with_fixed("rod"),
}


def circles(text):
    """Centre of each named circle in pixels, transforms of its groups applied, y downwards."""
    found = {}
    walk(ET.fromstring(text), np.eye(3), found)
    return found


def walk(node, frame, found):
    if turned := re.match(r"matrix\((.*)\)", node.get("transform", "")):
        a, b, c, d, e, f = map(float, turned[1].split())
        frame = frame @ np.array([[a, c, e], [b, d, f], [0, 0, 1]])
    if node.tag == SVG + "circle" and node.get("data-name"):
        x, y, _ = frame @ [float(node.get("cx")), float(node.get("cy")), 1]
        found[node.get("data-name")] = complex(x, y)
    for child in node:
        walk(child, frame, found)


@pytest.mark.parametrize("name", BARS)
@pytest.mark.parametrize("moving", [False, True])
@pytest.mark.parametrize("index", [0, 77, 200, 359])
def test_pins_lie_where_the_motion_puts_them(name, moving, index):
    motion = lk.move(BARS[name]())
    if not motion.ok[index]:
        pytest.skip(f"{name} is not assembled at {index}")
    scene = line_diagram(motion, at=index)
    seen = circles(paint(scene, moving=moving))
    assert set(seen) >= set(motion.linkage.points)
    for point in motion.linkage.points:
        z = motion.point(point)[index]
        pixel = complex(z.real - scene.bounds.left, scene.bounds.top - z.imag) / scene.px
        assert abs(seen[point] - pixel) < 2 * ROUNDED, f"{point} is drawn {seen[point]}, it lies at {pixel}"


def test_a_linkage_is_drawn_as_it_is_sketched():
    bar = BARS["four-bar"]()
    scene = line_diagram(bar)
    seen = circles(scene.svg())
    b = scene.bounds
    drawn = {p: complex(b.left + z.real * scene.px, b.top - z.imag * scene.px) for p, z in seen.items()}
    assert abs(abs(drawn["A"] - drawn["B"]) - 0.35) < 4 * ROUNDED * scene.px
    assert abs(drawn["P"] - bar.points["P"]) < 2 * ROUNDED * scene.px


@pytest.mark.parametrize("name", BARS)
def test_everything_stays_inside_the_picture_all_round(name):
    motion = lk.move(BARS[name]())
    scene = line_diagram(motion)
    spots = np.concatenate([motion.point(p)[motion.ok] for p in motion.linkage.points])
    b = scene.bounds
    inside = (spots.real > b.left) & (spots.real < b.right) & (spots.imag > b.bottom) & (spots.imag < b.top)
    assert inside.all()


def test_path_shows_the_motion_of_the_point():
    motion = lk.move(BARS["four-bar"]())
    scene = line_diagram(motion, paths=["P"])
    (path,) = [s for s in scene.shapes if not isinstance(s, Group) and s.name == "path:P"]
    z = motion.point("P")
    assert path.closed
    assert all(np.abs(z - p).min() < 1e-12 for p in path.points)
    assert np.ptp(np.real(path.points)) == pytest.approx(np.ptp(z.real), rel=1e-3)


def test_path_of_a_motion_with_gaps_has_gaps():
    motion = lk.move(lk.four_bar(0.1, 0.04, 0.12, 0.08).with_fixed("rocker").with_fixed("ground"))
    double_rocker = lk.move(lk.four_bar(0.3, 0.2, 0.1, 0.25))
    assert motion.ok.all()
    assert not double_rocker.ok.all()
    scene = line_diagram(double_rocker, paths=["B"])
    for path in (s for s in scene.shapes if getattr(s, "name", "") == "path:B"):
        assert np.isfinite(path.points).all()
        assert max(abs(np.diff(path.points))) < 0.1


def test_bounds_hold_every_shape():
    group = Group("g", (Text(1 + 1j, "far"),), at=2 + 0j, turn=1j)
    b = bounds_of((group,))
    assert (b.left, b.bottom, b.right, b.top) == (1, 1, 1, 1)
    with pytest.raises(ValueError, match="nothing to draw"):
        bounds_of(())


def test_nearest_index_is_modulo_a_turn():
    motion = lk.move(BARS["four-bar"]())
    assert nearest(motion, np.radians(-1.2)) == 359
    assert nearest(motion, np.radians(361.2)) == 1


def test_unassembled_or_missing_position_is_refused_in_words():
    motion = lk.move(lk.four_bar(0.3, 0.2, 0.1, 0.25))
    bad = int(np.flatnonzero(~motion.ok)[0])
    with pytest.raises(lk.LinkageError, match="not assembled at position"):
        line_diagram(motion, at=bad)
    with pytest.raises(lk.LinkageError, match="360 positions"):
        line_diagram(motion, at=360)
    with pytest.raises(lk.LinkageError, match=r"no point .?Z"):
        line_diagram(motion, paths=["Z"])


def test_scene_of_one_circle_paints_y_upwards():
    from linkkit.draw.scene import Bounds, Circle

    scene = Scene((Circle(3 + 9j, 1.0, name="c"),), Bounds(0, 0, 10, 10), 0.1, "t", "d")
    assert circles(scene.svg())["c"] == pytest.approx(30 + 10j)
