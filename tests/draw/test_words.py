"""Every picture has words, they are true, and they reach the page safely."""

import re
import subprocess
import sys
import xml.etree.ElementTree as ET

import numpy as np
import pytest

import linkkit as lk
from linkkit.draw import animation, breakdown_picture, construction, graph, line_diagram, save_page
from linkkit.draw.units import length_text, round_length, significant

SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture
def bar():
    return lk.four_bar(0.4, 0.12, 0.35, 0.25)


def test_svg_is_an_image_named_and_described(bar):
    scene = line_diagram(bar)
    root = ET.fromstring(scene.svg())
    title, desc = root.find(SVG + "title"), root.find(SVG + "desc")
    assert root.get("role") == "img"
    assert root.get("aria-labelledby").split() == [title.get("id"), desc.get("id")]
    assert desc.text == scene.description


def test_two_pictures_never_share_an_id(bar):
    scene = line_diagram(bar)
    ids = [e.get("id") for text in (scene.svg(), scene.svg()) for e in ET.fromstring(text).iter() if e.get("id")]
    assert len(ids) == len(set(ids)) == 4


def test_description_names_links_pins_and_places(bar):
    words = line_diagram(bar, paths=["B"]).description
    assert "The fixed link is ground, with fixed pivots O and Q." in words
    assert "Link crank (input) carries O and A." in words
    assert "Link rocker (output) carries Q and B." in words
    assert "Q at (400, 0) mm" in words
    assert "crank turns right round." in words


def test_swing_in_the_description_is_the_swing_of_the_motion(bar):
    words = line_diagram(bar).description
    swing = np.degrees(np.ptp(lk.move(bar).angle("rocker")))
    assert f"rocker turns to and fro through {significant(swing, 1, places=1)}°." in words


@pytest.mark.parametrize("name", lk.machines())
def test_what_is_said_of_a_machine_is_what_its_facts_say(name):
    """The picture reads its 360 positions, the facts find the limits themselves by roots; angles are told to 0.1°."""
    machine = lk.machine(name)
    found, words = lk.facts(machine), line_diagram(machine).description
    assert f"The fixed link is {machine.fixed}" in words
    assert all(f"{p} at ({1000 * z.real:.0f}, {1000 * z.imag:.0f}) mm".replace("-", "−") in words
               for p, z in machine.points.items())  # fmt: skip
    if found.stroke is not None:
        told = float(re.search(rf"{machine.output} moves without turning, over ([\d.]+) mm", words)[1])
        assert told == pytest.approx(1000 * found.stroke, rel=0.006)  # three figures
    elif np.degrees(found.swing) > 359:
        assert f"{machine.output} turns right round." in words
    else:
        told = float(re.search(rf"{machine.output} turns to and fro through ([\d.]+)°", words)[1])
        assert told == pytest.approx(np.degrees(found.swing), abs=0.1)


def test_hostile_names_are_text_not_markup():
    nasty = '<script>alert("1")</script>&'
    bar = lk.Linkage({nasty: 0, "A": 0.1j}, {"ground": (nasty,), '"><b>': (nasty, "A")}, "ground", name=nasty)
    text = line_diagram(bar).svg()
    assert "<script" not in text
    root = ET.fromstring(text)
    assert nasty in [t.text for t in root.iter(SVG + "text")]
    assert {e.tag for e in root.iter()} <= {SVG + t for t in ("svg", "title", "desc", "rect", "path", "circle", "text")}


def test_cell_output_holds_the_svg_itself(bar):
    assert "<svg" in line_diagram(bar)._repr_html_()


def test_graph_says_its_extremes_and_carries_them_as_alt(bar):
    motion = lk.move(bar)
    picture = graph(motion, ("angle", "rocker"), at=50)
    angle = np.degrees(motion.angle("rocker"))
    assert f"from {significant(angle.min(), 3)} at {int(angle.argmin())}" in picture.description
    assert f"At input angle 50 it is {significant(angle[50], 3)}." in picture.description
    assert 'alt="Graph against the input.' in picture._repr_html_()


@pytest.mark.parametrize("name", ["boatshed-shaper", "ice-chopper", "brine-lift"])
def test_rounding_is_not_told(name):
    """A point on a guide moves in a straight line, and has no speed across it."""
    machine = lk.machine(name)
    motion, (guided,) = lk.move(machine, speed=1.0), machine.links[machine.output]
    words = graph(motion, ("velocity x", guided), ("velocity y", guided), ("acceleration y", guided)).description
    drawing = line_diagram(machine, paths=[guided, "O"])
    travel = abs(motion.point(guided)[:, None] - motion.point(guided)[None, :]).max()
    assert f"The path of {guided} is a straight line, {length_text(float(travel))} long." in drawing.description
    assert "O stays where it is." in drawing.description
    assert "from 0 at 0 to 0 at 0." in words
    assert "0.00000" not in words + drawing.description


def test_named_curves_of_one_axis_share_it(bar):
    motion = lk.move(bar)
    zero = np.zeros(360)
    picture = graph(motion, ("torque, N m", "slow", zero), ("torque, N m", "fast", zero + 2), ("tilt, °", zero))
    shared, alone = picture.figure.axes
    assert [t.get_text() for t in shared.get_legend().get_texts()] == ["slow", "fast"]
    assert len(alone.lines) == 1
    assert "torque of fast, N m: from 2 at 0 to 2 at 0." in picture.description


def test_graph_refuses_what_it_cannot_draw(bar):
    motion = lk.move(bar)
    with pytest.raises(lk.LinkageError, match="no quantity"):
        graph(motion, ("colour", "rocker"))
    with pytest.raises(lk.LinkageError, match="one value for each of the 360"):
        graph(motion, ("tilt, °", np.zeros(7)))


@pytest.mark.parametrize(
    ("metres", "text"),
    [
        (0.1234, "123 mm"),
        (12.5, "12.5 m"),
        (0.0101, "10.1 mm"),
        (0.0, "0 mm"),
        (-0.25, "−250 mm"),
        (0.1, "100 mm"),
    ],
)
def test_length_text(metres, text):
    assert length_text(metres) == text


@pytest.mark.parametrize(("x", "r"), [(0.37, 0.2), (0.5, 0.5), (0.99, 0.5), (1.0, 1.0), (234.0, 200.0)])
def test_round_length(x, r):
    assert round_length(x) == pytest.approx(r)


def test_one_page_with_everything_needs_nothing_else(tmp_path, bar):
    motion = lk.move(bar)
    page = save_page(tmp_path / "all.html", "All", line_diagram(bar), animation(bar), construction(motion, 50),
                     breakdown_picture(bar), graph(motion, ("angle", "rocker")))  # fmt: skip
    text = page.read_text()
    ids = re.findall(r' id="([^"]+)"', text)
    assert len(ids) == len(set(ids))
    assert re.findall(r'(?:src|href)="(?!data:)', text) == []
    assert text.count("<svg") == 4
    assert line_diagram(bar).description in text


@pytest.mark.parametrize(("kind", "start"), [("svg", b"<svg"), ("png", b"\x89PNG"), ("pdf", b"%PDF")])
def test_pictures_are_saved_by_their_ending(tmp_path, bar, kind, start):
    path = line_diagram(bar).save(tmp_path / f"bar.{kind}")
    assert path.read_bytes().startswith(start)
    with pytest.raises(ValueError, match="written as"):
        line_diagram(bar).save(tmp_path / "bar.gif")


def test_a_saved_drawing_carries_its_words(tmp_path, bar):
    from PIL import Image

    scene = line_diagram(bar)
    assert Image.open(scene.save(tmp_path / "bar.png")).text["Description"] == scene.description


def test_drawing_needs_no_widgets_and_no_matplotlib():
    heavy = ("ipywidgets", "matplotlib", "anywidget", "scipy")
    code = f"import sys, linkkit.draw; print([m for m in {heavy} if m in sys.modules])"
    assert (
        subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout.strip() == "[]"
    )
