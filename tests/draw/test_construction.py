"""The construction by ruler and compasses is a second way to the positions: held against `move`."""

import xml.etree.ElementTree as ET
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from lettering import collisions

import linkkit as lk
from linkkit.draw import construction, crossings
from linkkit.draw.cycle import cycle_of
from linkkit.draw.labels import sample
from linkkit.draw.paper import LONG, SHORT

DRAWN = 1e-9  # metres: the crossings are found in closed form, from lengths of some metres
MACHINES = ("brine-lift", "crate-hoist", "ice-chopper", "net-shaker", "steam-launch", "boatshed-shaper", "bilge-pump",
            "rope-guide", "fish-press", "lamp-turner", "hatch-closer")  # fmt: skip


@pytest.mark.parametrize("name", MACHINES)
@pytest.mark.parametrize("part", [0.1, 0.5, 0.9])
def test_every_machine_is_constructed_where_the_solver_puts_it(name, part):
    cycle = cycle_of(lk.machine(name))
    at = int(part * len(cycle.ok))
    drawing = construction(lk.machine(name), at)
    for point in cycle.linkage.points:
        assert abs(drawing.points[point] - cycle.point(point)[at]) < DRAWN, point


@pytest.mark.parametrize("name", MACHINES)
def test_twelve_positions_stay_in_the_frame_and_can_be_read(name):
    """Nothing drawn crosses the frame, no name lies over another or over a point, and what that leaves out is said."""
    machine = lk.machine(name)
    drawing = construction(machine, positions=12, points=[list(machine.points)[-1]])
    for scene in (drawing.picture(), drawing.page()):
        (frame,) = (s for s in scene.shapes if getattr(s, "role", "") == "axis")
        drawn = sample([s for s in scene.shapes if s is not frame], scene.px)
        low, high = frame.points[0], frame.points[2]
        assert low.real < drawn.real.min() < drawn.real.max() < high.real
        assert low.imag < drawn.imag.min() < drawn.imag.max() < high.imag
    picture = drawing.picture()
    assert collisions(picture) == []
    named = [s for s in picture.shapes if getattr(s, "name", "").startswith("point:")]
    assert (len(named) < len(drawing.points)) == ("left out" in picture.description)
    assert len(named) > 0.75 * len(drawing.points)


def test_twelve_positions_are_numbered_and_lie_on_the_motion():
    motion = lk.move(lk.four_bar(0.4, 0.12, 0.35, 0.25))
    drawing = construction(motion, positions=12)
    for k in range(12):
        name = "B" + str(k + 1).translate(str.maketrans("0123456789", "₀₁₂₃₄₅₆₇₈₉"))
        assert abs(drawing.points[name] - motion.point("B")[30 * k]) < DRAWN
    assert "B′" not in drawing.points


def test_the_refused_crossing_is_the_other_circuit():
    open_, crossed = (lk.four_bar(0.4, 0.12, 0.35, 0.25, circuit=c) for c in ("open", "crossed"))
    drawing = construction(lk.move(open_), 50)
    other = lk.move(crossed, np.radians(50)).point("B")
    assert abs(drawing.points["B′"] - other) < DRAWN
    assert "B′ is refused" in repr(drawing)


def test_stages_come_in_the_order_of_the_breakdown():
    words = [s.words for s in construction(lk.machine("brine-lift"), 30).stages]
    assert words[0].startswith("Draw the fixed pivots O and Q")
    assert words[1].startswith("Draw the circle of crank")
    assert "needle in Q" in words[2]
    assert "K must lie on the line of barrel" in words[4]
    assert words[-1].startswith("Join the pins")


def test_each_stage_adds_to_the_picture_and_to_its_words():
    drawing = construction(lk.machine("net-shaker"), 40)
    pictures = [drawing.picture(n) for n in range(1, len(drawing.stages) + 1)]
    assert all(len(b.description) > len(a.description) for a, b in pairwise(pictures))
    with pytest.raises(lk.LinkageError, match="no stage 9"):
        drawing.picture(9)


def test_the_sheet_is_a4_and_to_scale():
    drawing = construction(lk.move(lk.four_bar(0.4, 0.12, 0.35, 0.25)), 50, scale=5)
    page = drawing.page()
    assert (page.bounds.width, page.bounds.height) == pytest.approx((5 * LONG, 5 * SHORT))
    width = float(ET.fromstring(page.svg()).get("width"))
    assert width / 96 * 25.4 == pytest.approx(297, abs=0.01)  # CSS: 96 pixels are an inch, 25.4 mm
    assert "400 mm (80 mm on paper)" in drawing.stages[0].words


def test_a_scale_that_does_not_fit_is_refused():
    with pytest.raises(lk.LinkageError, match="does not fit"):
        construction(lk.machine("brine-lift"), 0, scale=5)


def test_a_drawn_answer_is_laid_over_and_measured():
    drawing = construction(lk.move(lk.four_bar(0.4, 0.12, 0.35, 0.25)), 50, scale=5)
    scene = drawing.over({"B": drawing.points["B"] + 0.01})
    assert "Your B is 10 mm from where it should be, 2.0 mm on paper." in scene.description
    assert "your B" in scene.svg()
    with pytest.raises(lk.LinkageError, match="finds no point Z"):
        drawing.over({"Z": 0j})


plane = st.complex_numbers(max_magnitude=3, allow_nan=False, allow_infinity=False)
radius = st.floats(0.05, 3)


@given(a=plane, b=plane, r=radius, q=radius)
def test_crossings_of_circles_lie_on_both(a, b, r, q):
    for z in crossings.circles(a, r, b, q):
        d = max(abs(b - a), 1e-6)
        assert abs(abs(z - a) - r) < 1e-9 * (1 + r * r / d)
        assert abs(abs(z - b) - q) < 1e-5 * (1 + 1 / d)


@given(through=plane, angle=st.floats(0, 7), a=plane, r=radius)
def test_crossings_of_line_and_circle_lie_on_both(through, angle, a, r):
    way = complex(np.cos(angle), np.sin(angle))
    for z in crossings.line_circle(through, way, a, r):
        assert abs(((z - through) * way.conjugate()).imag) < 1e-12
        assert abs(abs(z - a) - r) < 1e-5


def test_circles_that_do_not_meet_have_no_crossing():
    assert crossings.circles(0j, 1, 3 + 0j, 1) == ()
    assert crossings.circles(0j, 1, 0j, 2) == ()
    assert crossings.line_circle(2j, 1 + 0j, 0j, 1) == ()
