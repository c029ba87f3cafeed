"""The breakdown picture shows the machine and every chain of its breakdown, in the roles that the breakdown gives."""

import pytest
from lettering import collisions

import linkkit as lk
from linkkit.draw import breakdown_picture
from linkkit.draw.scene import Path, Text, flat
from linkkit.draw.style import LOOKS

MACHINES = ("crate-hoist", "brine-lift", "boatshed-shaper", "fish-press", "net-shaker", "bilge-pump")


def cells(scene):
    return [[s for s, *_ in flat((group,))] for group in scene.shapes]


@pytest.mark.parametrize("name", MACHINES)
def test_one_drawing_for_the_machine_and_one_for_each_chain(name):
    machine = lk.machine(name)
    chains = lk.breakdown(machine)
    scene = breakdown_picture(machine)
    drawn = cells(scene)
    assert collisions(scene) == []
    assert len(drawn) == 1 + len(chains)
    for cell, chain in zip(drawn[1:], chains, strict=True):
        texts = [s.text for s in cell if isinstance(s, Text)]
        assert any(chain.kind in t for t in texts)
        for part in ("fixed", "input", "coupler", "output"):
            assert getattr(chain, part) is None or any(t.startswith(f"{part}: {getattr(chain, part)}") for t in texts)


@pytest.mark.parametrize("name", ["brine-lift", "fish-press", "crate-hoist"])
def test_links_of_the_chain_are_drawn_in_their_roles(name):
    machine = lk.machine(name)
    for cell, chain in zip(cells(breakdown_picture(machine))[1:], lk.breakdown(machine), strict=True):
        roles = {s.name: s.role for s in cell if isinstance(s, Path) and s.name in machine.links and s.role != "faint"}
        for part in ("input", "coupler", "output"):
            link = getattr(chain, part)
            assert roles.get(link, part) == part


def test_every_chain_is_in_the_words():
    machine = lk.machine("brine-lift")
    words = breakdown_picture(machine).description
    assert "2 chains" in words
    assert "1. four-bar: fixed frame, input crank, coupler connecting rod, output beam." in words
    assert "2. slider-crank: fixed frame, input beam, coupler hanger, output plunger." in words


def test_a_chain_seen_from_a_moving_link_says_so():
    machine = lk.machine("crate-hoist").with_fixed("tray")
    scene = breakdown_picture(machine)
    moving = [c for c in lk.breakdown(machine) if c.moving]
    assert ("which moves itself" in scene.description) == bool(moving)


def test_nothing_is_lost_between_cells():
    scene = breakdown_picture(lk.machine("fish-press"), columns=3)
    b = scene.bounds
    for shape, at, turn in flat(scene.shapes):
        if isinstance(shape, Text):
            z = at + turn * shape.at
            assert b.left <= z.real <= b.right
            assert b.bottom <= z.imag <= b.top
        assert getattr(shape, "role", "label") in LOOKS
