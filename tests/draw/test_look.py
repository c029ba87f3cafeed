"""Colour is never the only cue, and what there is of it can be seen by everybody."""

import itertools
import math

import numpy as np
import pytest
from lettering import collisions, mistaken

import linkkit as lk
from linkkit.draw import line_diagram
from linkkit.draw.labels import Wish, around, clashes, place, sample, text_of
from linkkit.draw.scene import Path
from linkkit.draw.style import LOOKS, PAPER

# Simulation of dichromatic sight in linear RGB: Machado, Oliveira & Fernandes 2009, severity 1.0 (published table).
SIGHTS = {
    "normal": ((1, 0, 0), (0, 1, 0), (0, 0, 1)),
    "protan": (
        (0.152286, 1.052583, -0.204868),
        (0.114503, 0.786281, 0.099216),
        (-0.003882, -0.048116, 1.051998),
    ),
    "deutan": (
        (0.367322, 0.860646, -0.227968),
        (0.280085, 0.672501, 0.047413),
        (-0.011820, 0.042940, 0.968881),
    ),
    "tritan": (
        (1.255528, -0.076749, -0.178779),
        (-0.078411, 0.930809, 0.147602),
        (0.004733, 0.691367, 0.303900),
    ),
}
MUST_DIFFER = ("fixed", "input", "coupler", "output", "link", "path")
TEXT_ROLES = (
    "fixed",
    "input",
    "coupler",
    "output",
    "link",
    "label",
    "note",
    "refused",
    "path",
    "construction",
)


def linear(colour):
    parts = [int(colour[k : k + 2], 16) / 255 for k in (1, 3, 5)]
    return [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts]  # IEC 61966-2-1


def luminance(rgb):
    return 0.2126 * rgb[0] + 0.7152 * rgb[1] + 0.0722 * rgb[2]


def contrast(a, b):
    """WCAG 2.2, definition of contrast ratio."""
    high, low = sorted((luminance(linear(a)), luminance(linear(b))), reverse=True)
    return (high + 0.05) / (low + 0.05)


def lab(rgb):
    """CIE 1976 L*a*b*, white point D65."""
    x, y, z = (
        0.4124 * rgb[0] + 0.3576 * rgb[1] + 0.1805 * rgb[2],
        luminance(rgb),
        0.0193 * rgb[0] + 0.1192 * rgb[1] + 0.9505 * rgb[2],
    )
    f = [t ** (1 / 3) if t > 0.008856 else 7.787 * t + 16 / 116 for t in (x / 0.9505, y, z / 1.089)]
    return 116 * f[1] - 16, 500 * (f[0] - f[1]), 200 * (f[1] - f[2])


def test_contrast_with_the_paper():
    for role, style in LOOKS.items():
        least = 4.5 if role in TEXT_ROLES else 3.0  # WCAG 2.2, 1.4.3 and 1.4.11
        assert contrast(style.colour, PAPER) >= least, role


def test_link_names_can_be_read_on_the_tint_of_their_own_plate():
    for role in ("input", "coupler", "output", "link"):
        assert contrast(LOOKS[role].colour, LOOKS[role].tint) >= 4.5, role


def test_roles_stay_apart_for_every_sight():
    for sight, rows in SIGHTS.items():
        seen = {
            r: lab([sum(a * b for a, b in zip(row, linear(LOOKS[r].colour), strict=True)) for row in rows])
            for r in MUST_DIFFER
        }
        for a, b in itertools.combinations(MUST_DIFFER, 2):
            assert math.dist(seen[a], seen[b]) > 15, (sight, a, b)


def test_roles_differ_in_weight_or_dash_too():
    marks = [
        (LOOKS[r].weight, LOOKS[r].dash) for r in ("fixed", "input", "coupler", "output", "path", "ghost", "refused")
    ]
    assert len(set(marks)) == len(marks)


def test_a_label_takes_the_free_side():
    below = Path((-1 - 0.2j, 1 - 0.2j, 1 - 0.05j, -1 - 0.05j), closed=True)
    wish = Wish("A", "A", around(0j))
    (chosen,) = place([wish], [(sample([below], 0.01), 1.0)], 0.01)
    assert text_of(wish, chosen, 0.01).at.imag > 0


def test_labels_of_one_spot_do_not_overlap():
    nothing = (np.zeros(0, complex), 1.0)
    wishes = [Wish(str(k), "label", around(0j)) for k in range(4)]
    chosen = place(wishes, [nothing] * 4, 0.01)
    boxes = [text_of(w, k, 0.01).at for w, k in zip(wishes, chosen, strict=True)]
    assert all(abs((a - b).real) > 0.4 or abs((a - b).imag) > 0.1 for a, b in itertools.combinations(boxes, 2))


def test_labels_hide_little_all_round_the_cycle():
    motion = lk.move(lk.four_bar(0.4, 0.12, 0.35, 0.25).with_point("coupler", "P", 0.15, 0.1))
    hidden = [clashes(line_diagram(motion, at=k, paths=["P"])) for k in range(0, 360, 30)]
    naive = [clashes_at_the_pins(motion, k) for k in range(0, 360, 30)]
    assert sum(hidden) / len(hidden) < 3
    assert sum(hidden) < 0.15 * sum(naive)


MACHINES = ("brine-lift", "crate-hoist", "ice-chopper", "net-shaker", "steam-launch", "boatshed-shaper", "bilge-pump",
            "rope-guide", "fish-press", "lamp-turner", "hatch-closer")  # fmt: skip


@pytest.mark.parametrize("name", MACHINES)
def test_labels_keep_apart_and_stand_nearest_to_what_they_name(name):
    """Ink against ink, pins and the drawn lines; a name may be a pixel nearer to another link than to its own."""
    machine = lk.machine(name)
    bars = [carried[:2] for k in machine.moving if len(carried := machine.links[k]) > 1]
    sizes = [*bars[:4], machine.moving[0]]
    for options in ({}, {"moving": True}, {"ghosts": 6}, {"ranges": True}, {"dimensions": sizes}):
        scene = line_diagram(machine, **options)
        assert collisions(scene) == []
        assert mistaken(scene) == []
        assert clashes(scene) == 0 or options.keys() & {"ghosts", "ranges", "dimensions"}, "a line is hidden"


def test_labels_of_inversions_keep_apart_and_seldom_stray():
    """Every inversion of every machine; a large frame that sweeps over all else leaves a few names no place."""
    scenes = [line_diagram(m.with_fixed(k)) for m in map(lk.machine, MACHINES) for k in m.moving]
    assert [c for scene in scenes for c in collisions(scene)] == []
    named = sum(len(scene_links(scene)) for scene in scenes)
    assert sum(len(mistaken(scene)) for scene in scenes) < 0.1 * named


def test_a_place_off_the_end_of_a_short_link_is_let_go_when_the_link_has_grown():
    places = {}
    line_diagram(lk.four_bar(0.4, 0.05, 0.35, 0.25), moving=True, places=places)
    places["link:crank"] = 40  # one of the places that only a link shorter than its name has
    grown = line_diagram(lk.four_bar(0.4, 0.15, 0.35, 0.25), moving=True, places=places)
    assert mistaken(grown) == []


def scene_links(scene):
    return [g for g in scene.shapes if g.name.startswith("label:link:")]


def test_stands_of_pins_close_together_keep_apart():
    scene = line_diagram(lk.machine("crate-hoist"))
    (ground,) = (g for g in scene.shapes if g.name == "link:frame")
    pins = {p: lk.machine("crate-hoist").points[p] for p in ("P", "Q", "N", "O")}
    legs = [s for s in ground.shapes if len(s.points) == 3]
    assert len(legs) == len(pins)
    for leg in legs:
        feet = leg.points[0], leg.points[2]
        assert all(abs(foot - z) > 8 * scene.px for foot in feet for z in pins.values())


def clashes_at_the_pins(motion, k):
    """The same picture with every label put on the thing it names, to measure the placing against."""
    from dataclasses import replace

    scene = line_diagram(motion, at=k, paths=["P"])
    moved = [
        replace(g, shapes=tuple(replace(t, at=0j) for t in g.shapes)) if g.layer == "label" else g for g in scene.shapes
    ]
    return clashes(replace(scene, shapes=tuple(moved)))


def test_labels_of_a_moving_picture_hide_less_all_round_than_labels_placed_once():
    from linkkit.draw.cycle import cycle_of
    from linkkit.draw.poses import posed

    bar = lk.four_bar(0.4, 0.12, 0.35, 0.25).with_point("coupler", "P", 0.15, 0.1)
    cycle = cycle_of(lk.move(bar))

    def hidden(moving):
        scene = line_diagram(lk.move(bar), moving=moving)
        return sum(clashes(posed(scene, cycle, k)) for k in range(0, 360, 20))

    assert hidden(True) < 0.6 * hidden(False)
