"""Newton's method on the core's constraint equations, against sympy's closed forms and the core's."""

from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest
from random_poses import POSES, family, random_four_bars, random_sliders

import linkkit as lk
from linkkit.breakdown import linkage_groups
from linkkit.constraint import blocks, matrix
from tolerances import CLOSURE


def newton(linkage, theta, start, rounds=6):
    """Every link's place by Newton's method on all constraint equations, started from the places given.

    `start` gives link: (place of its first point, rotation); all arrays over the poses.
    """
    zero = np.zeros(len(theta))[:, None]
    view = SimpleNamespace(linkage=linkage, inputs={linkage.inputs[0].name: theta[:, None]})
    view.u = {linkage.fixed: 1.0} | {link: u for link, (_, u) in start.items()}
    marks = {link: linkage.points[linkage.links[link][0]] for link in start}
    view.anchor = {linkage.fixed: (0.0, 0.0)} | {link: (marks[link], w) for link, (w, _) in start.items()}
    view.carry = lambda link, z: view.anchor[link][1] + view.u[link] * (z - view.anchor[link][0])
    for _ in range(rounds):
        for block in blocks(linkage):
            rows = [part + zero for equation in block.equations for part in equation.residual(view)]
            change = -np.linalg.solve(matrix(view, block, zero.shape), np.stack(rows, axis=-1)[..., None])[..., 0]
            for n, link in enumerate(block.links):
                x, y, turn = np.moveaxis(change[..., 3 * n : 3 * n + 3], -1, 0)
                z, w = view.anchor[link]
                view.anchor[link], view.u[link] = (z, w + x + 1j * y), view.u[link] * np.exp(1j * turn)
    return view


def shaken(motion, links, seed):
    """The places of links in a motion, each put off by up to a thousandth of a unit and a milliradian."""
    rng = np.random.default_rng(seed)
    places = {}
    for link in links:
        w, u = motion.point(motion.linkage.links[link][0]), motion.rotation(link)
        x, y, turn = rng.uniform(-1e-3, 1e-3, size=(3, *w.shape))
        places[link] = (w + x + 1j * y, u * np.exp(1j * turn))
    return places


@pytest.mark.parametrize("circuit", ["open", "crossed"])
def test_four_bar_three_routes(circuit):
    """Newton, the core's closed form and sympy's put B in one place, on 100,000 poses."""
    lengths, theta = random_four_bars(POSES, seed=12)
    longest = np.max(list(lengths.values()), axis=0)
    linkage = family(lk.four_bar, lengths, circuit)
    motion = lk.move(linkage, theta[:, None])
    view = newton(linkage, theta, shaken(motion, ("crank", "coupler", "rocker"), seed=1))
    by_newton = view.carry("coupler", linkage.points["B"])[:, 0]
    rocker_angle = lk.algebra.four_bar().function(circuit)(**lengths, crank_angle=theta).rocker_angle
    by_sympy = lengths["ground"] + lengths["rocker"] * np.exp(1j * rocker_angle)
    assert np.max(abs(by_newton - motion.point("B")[:, 0]) / longest) < CLOSURE
    assert np.max(abs(by_newton - by_sympy) / longest) < CLOSURE


def test_slider_crank_three_routes():
    """The same for the offset slider-crank."""
    lengths, theta = random_sliders(POSES, seed=13)
    longest = np.maximum(lengths["crank"], lengths["rod"])
    linkage = family(lk.slider_crank, lengths)
    motion = lk.move(linkage, theta[:, None])
    view = newton(linkage, theta, shaken(motion, ("crank", "rod", "slider"), seed=1))
    by_newton = view.carry("slider", linkage.points["B"])[:, 0]
    found = lk.algebra.slider_crank().function("open")(**lengths, crank_angle=theta)
    assert np.max(abs(by_newton - motion.point("B")[:, 0]) / longest) < CLOSURE
    assert np.max(abs(by_newton - found.slider_position - 1j * lengths["offset"]) / longest) < CLOSURE


def placed_by_newton(linkage):
    """The same linkage with its dyads placed by the core's Newton continuation."""
    twin = lk.Linkage(linkage.points, linkage.links, linkage.fixed, linkage.slides, linkage.inputs)
    by_newton = tuple(replace(g, kind="newton") if g.kind != "driven" else g for g in linkage_groups(twin))
    object.__setattr__(twin, "_groups", by_newton)
    assert lk.breakdown(twin)[0].kind == "no four-link chain"
    return twin


@pytest.mark.parametrize("steps", [2, 3, 5, 90])
@pytest.mark.parametrize(
    "linkage",
    [
        lk.four_bar(0.4, 0.1, 0.35, 0.25, "open"),
        lk.four_bar(0.4, 0.1, 0.35, 0.25, "crossed"),
        lk.four_bar(0.1, 0.3, 0.25, 0.35, "open"),
        lk.four_bar(0.1, 0.3, 0.25, 0.35, "crossed"),
        lk.slider_crank(0.1, 0.13, 0.02),
    ],
    ids=["crank-rocker", "crank-rocker crossed", "double-crank", "double-crank crossed", "slider-crank"],
)
def test_continuation_keeps_the_circuit(linkage, steps):
    """Placed by Newton, few positions or many, a linkage goes round the cycle as its closed form does."""
    closed, motion = lk.move(linkage, steps=steps), lk.move(placed_by_newton(linkage), steps=steps)
    assert motion.ok.all()
    assert np.max(abs(motion.point("B") - closed.point("B"))) < CLOSURE * 0.4
