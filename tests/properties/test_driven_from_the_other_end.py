"""A six-bar driven by its last link: what the crank's closed forms found, the other order or Newton must find again."""

from dataclasses import replace

import numpy as np
from hypothesis import given

import linkkit as lk
from strategies import six_bars_with_lever
from tolerances import CLOSURE


def redrawn_where_the_lever_moves_most(linkage):
    """The same linkage sketched where the lever's kinematic coefficient is greatest, and the crank's angle there."""
    cycle = lk.move(linkage, steps=90, speed=1.0)
    best = np.argmax(abs(cycle.angular_velocity("lever")))
    points = {name: complex(cycle.point(name)[best]) for name in linkage.points}
    return replace(linkage, points=points), cycle.input[best]


@given(six_bars_with_lever)
def test_lever_drives_the_crank_back(linkage):
    """The lever's angles of a forward motion, given as input, put every point back where it was."""
    linkage, middle = redrawn_where_the_lever_moves_most(linkage)
    forward = lk.move(linkage, middle + np.linspace(-0.1, 0.1, 9), speed=1.0)
    gear = forward.angular_velocity("lever")
    turn = lk.Input("lever", "angle", "R", ("ground", "lever"))
    back = lk.move(replace(linkage, inputs=(turn,)), forward.angle("lever"))
    size = max(abs(z) for z in linkage.points.values())
    # beside a limit of the lever its angle does not fix the crank's; those ends of the piece are left out
    one_way = abs(gear) > 0.3 * abs(gear).max()
    assert back.ok[one_way].all()
    for name in linkage.points:
        # an error of the lever's angle is passed on to the crank divided by the gear
        off = abs(back.point(name) - forward.point(name)) * abs(gear)
        assert np.max(off[one_way]) < CLOSURE * size


def test_both_orders_occur():
    """With the point on the rocker the other end is closed forms again; with it on the coupler it is Newton's."""
    kinds = set()
    for link in ("coupler", "rocker"):
        bar = lk.four_bar(0.4, 0.1, 0.35, 0.25).with_point(link, "C", 0.1, 0.05)
        points = bar.points | {"R": 0.9 + 0j, "E": 0.7 + 0.5j}
        links = {n: (*ps, "R") if n == "ground" else ps for n, ps in bar.links.items()}
        links |= {"rod": ("C", "E"), "lever": ("R", "E")}
        turn = lk.Input("lever", "angle", "R", ("ground", "lever"))
        driven = replace(bar, points=points, links=links, inputs=(turn,), output="crank")
        kinds.add(tuple(chain.kind for chain in lk.breakdown(driven)))
    assert kinds == {("no four-link chain",), ("four-bar", "four-bar")}
