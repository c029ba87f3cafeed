"""Sympy's closed forms against the core's closed forms, the loop itself, Newton's method and scipy."""

import numpy as np
import pytest
from random_poses import POSES, family, random_four_bars, random_levers, random_sliders
from scipy import optimize

import linkkit as lk
from tolerances import CLOSURE

CIRCUITS = ("open", "crossed")


def lever_linkage(ground, crank, offset, circuit):
    """The inverted slider-crank as a sketch: crank pin A on a block that slides on the lever about Q."""
    square = np.pi / 2 if abs(ground - 1j * crank) > abs(offset) else np.pi
    pin = crank * np.exp(1j * square)
    along, _ = (np.asarray(z) for z in _lever_line(pin, ground, offset, circuit))
    foot = ground + 1j * offset * along
    return lk.Linkage(
        {"O": 0, "A": pin, "Q": ground},
        {"ground": ("O", "Q"), "crank": ("O", "A"), "block": ("A",), "lever": ("Q",)},
        "ground",
        slides=(lk.Slide("slide", "block", "lever", complex(foot), complex(along)),),
        inputs=(lk.Input("crank", "angle", "O", ("ground", "crank")),),
    )


def _lever_line(pin, ground, offset, circuit):
    reach = np.sqrt(abs(pin - ground) ** 2 - offset**2) * (1 if circuit == "open" else -1)
    return (pin - ground) / (reach + 1j * offset), reach


@pytest.mark.parametrize("circuit", CIRCUITS)
def test_four_bar_closes_and_agrees_with_move(circuit):
    """100,000 poses: sympy's angles close the loop, and the core puts B in the same place."""
    lengths, theta = random_four_bars(POSES, seed=2)
    found = lk.algebra.four_bar().function(circuit)(**lengths, crank_angle=theta)
    longest = np.max(list(lengths.values()), axis=0)
    pin = lengths["crank"] * np.exp(1j * theta)
    by_rocker = lengths["ground"] + lengths["rocker"] * np.exp(1j * found.rocker_angle)
    by_coupler = pin + lengths["coupler"] * np.exp(1j * found.coupler_angle)
    assert np.max(abs(by_rocker - by_coupler) / longest) < CLOSURE
    left = np.imag(np.conj(lengths["ground"] - pin) * (by_rocker - pin)) > 0
    assert (left == (circuit == "open")).all()

    motion = lk.move(family(lk.four_bar, lengths, circuit), theta[:, None])
    assert motion.ok.all()
    assert np.max(abs(motion.point("B")[:, 0] - by_rocker) / longest) < CLOSURE
    assert np.max(motion.residual[:, 0] / longest) < CLOSURE
    for link, angle in (("rocker", found.rocker_angle), ("coupler", found.coupler_angle)):
        turned = abs(np.exp(1j * motion.angle(link)[:, 0]) - np.exp(1j * angle))
        assert np.max(lengths[link] * turned / longest) < CLOSURE


def test_slider_crank_closes_and_agrees_with_move():
    """100,000 poses on the +x side, and the loop alone on the other circuit."""
    lengths, theta = random_sliders(POSES, seed=3)
    longest = np.maximum(lengths["crank"], lengths["rod"])
    pin = lengths["crank"] * np.exp(1j * theta)
    for circuit, side in zip(CIRCUITS, (1, -1), strict=True):
        found = lk.algebra.slider_crank().function(circuit)(**lengths, crank_angle=theta)
        slider = found.slider_position + 1j * lengths["offset"]
        assert np.max(abs(pin + lengths["rod"] * np.exp(1j * found.rod_angle) - slider) / longest) < CLOSURE
        assert (np.sign(found.slider_position - pin.real) == side).all()
        if circuit == "open":
            motion = lk.move(family(lk.slider_crank, lengths), theta[:, None])
            assert np.max(abs(motion.point("B")[:, 0] - slider) / longest) < CLOSURE


@pytest.mark.parametrize("circuit", CIRCUITS)
def test_inverted_slider_closes(circuit):
    """100,000 poses: the block is on the slide line of the lever, and ahead of the foot of Q or behind it."""
    lengths, theta = random_levers(POSES, seed=4)
    found = lk.algebra.inverted_slider_crank().function(circuit)(**lengths, crank_angle=theta)
    arm = (found.block_position + 1j * lengths["offset"]) * np.exp(1j * found.lever_angle)
    longest = np.maximum(lengths["crank"], lengths["ground"])
    assert np.max(abs(lengths["crank"] * np.exp(1j * theta) - lengths["ground"] - arm) / longest) < CLOSURE
    assert (np.sign(found.block_position) == (1 if circuit == "open" else -1)).all()


@pytest.mark.parametrize("circuit", CIRCUITS)
@pytest.mark.parametrize("lengths", [(0.4, 0.1, 0.05), (0.2, 0.5, -0.1), (0.3, 0.3, 0.2)])
def test_inverted_slider_agrees_with_move(lengths, circuit):
    """Whirling, oscillating and change-over proportions, over the part of the cycle that can be assembled."""
    ground, crank, offset = lengths
    linkage = lever_linkage(ground, crank, offset, circuit)
    motion = lk.move(linkage, steps=720)
    place = lk.algebra.inverted_slider_crank().function(circuit)
    found = place(ground=ground, crank=crank, offset=offset, crank_angle=motion.input)
    clear = abs(crank * np.exp(1j * motion.input) - ground) > abs(offset) / np.cos(np.radians(1))
    assert motion.ok[clear].all()
    turned = abs(np.exp(1j * motion.angle("lever")) - np.exp(1j * found.lever_angle))
    assert np.max((abs(found.block_position) * turned)[clear]) < CLOSURE * max(ground, crank)


@pytest.mark.parametrize("circuit", CIRCUITS)
def test_general_solvers_find_the_same_pose(circuit):
    """scipy's fsolve and least_squares, which know nothing of linkages, on a sample of the poses."""
    lengths, theta = random_four_bars(25, seed=5)
    found = lk.algebra.four_bar().function(circuit)(**lengths, crank_angle=theta)
    for n, (ground, crank, coupler, rocker) in enumerate(zip(*lengths.values(), strict=True)):

        def gap(angles, here=n, ground=ground, crank=crank, coupler=coupler, rocker=rocker):
            z = crank * np.exp(1j * theta[here]) + coupler * np.exp(1j * angles[0])
            z = z - ground - rocker * np.exp(1j * angles[1])
            return [z.real, z.imag]

        expected = np.array([found.coupler_angle[n], found.rocker_angle[n]])
        start = expected + 1e-3
        by_powell = optimize.fsolve(gap, start, xtol=1e-12)
        by_squares = optimize.least_squares(gap, start, xtol=1e-14, ftol=1e-14, gtol=1e-14).x
        assert by_powell == pytest.approx(expected, rel=0, abs=CLOSURE)
        assert by_squares == pytest.approx(expected, rel=0, abs=CLOSURE)


def test_outside_its_range_every_result_is_nan():
    """Two links of 1 and 2 cannot span 4: nothing is made up."""
    found = lk.algebra.four_bar().function("open")(ground=5, crank=1, coupler=1, rocker=2, crank_angle=0.0)
    assert np.isnan(found.rocker_angle)
    assert np.isnan(found.coupler_angle)
    short = lk.algebra.slider_crank().function("open")(crank=1, rod=0.5, offset=0, crank_angle=np.pi / 2)
    assert np.isnan(short.slider_position)
