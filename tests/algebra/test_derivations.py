"""The derivations themselves: every step true, readable, and refusing what it does not know."""

import random
import subprocess
import sys

import numpy as np
import pytest
import sympy as sp

import linkkit as lk
from linkkit.algebra.derivation import SIGN, Derivation, Step
from tolerances import CLOSURE, DIFFERENCE

EVERY = {
    "four-bar": lk.algebra.four_bar,
    "slider-crank": lk.algebra.slider_crank,
    "inverted slider-crank": lk.algebra.inverted_slider_crank,
    "Freudenstein": lk.algebra.freudenstein,
    "four-bar ratios": lambda: lk.algebra.velocity_ratio("four-bar"),
    "slider-crank ratios": lambda: lk.algebra.velocity_ratio("slider-crank"),
    "inverted ratios": lambda: lk.algebra.velocity_ratio("inverted slider-crank"),
}
LENGTHS = {
    "four-bar": {"ground": 0.4, "crank": 0.1, "coupler": 0.35, "rocker": 0.25},
    "slider-crank": {"crank": 0.1, "rod": 0.3, "offset": 0.05},
    "inverted slider-crank": {"ground": 0.4, "crank": 0.1, "offset": -0.05},
}


@pytest.mark.parametrize("name", EVERY)
def test_every_step_holds_at_exact_closed_poses(name):
    """At 5 poses with rational lengths, cosines and sines the two sides differ by rounding in 60 digits."""
    derivation = EVERY[name]()
    residuals = derivation.residuals(samples=5, seed=77)
    assert len(residuals) == len(derivation.steps) >= 5
    assert max(residuals) < 1e-50


@pytest.mark.parametrize("name", ["four-bar", "slider-crank", "inverted slider-crank"])
def test_both_circuits_occur_among_the_poses(name):
    """The check would be blind on one circuit if no pose of it were drawn."""
    draw = random.Random(77)
    assert {EVERY[name]().pose(draw)[SIGN] for _ in range(8)} == {1, -1}


def test_a_false_step_is_refused_by_its_number():
    """A slip of sign in the slider-crank, as a student makes it."""
    right = lk.algebra.slider_crank()
    letters = {quantity.name: quantity.symbol for quantity in right.symbols}
    crank_only = letters["crank"] * sp.cos(letters["crank_angle"])
    wrong = Step("Forget the rod.", sp.Eq(letters["slider_position"], crank_only))
    slip = Derivation(right.title, right.symbols, (right.steps[0], wrong), (), {}, right.pose)
    with pytest.raises(ArithmeticError, match="step 2 of 'Position of the slider-crank' is off by"):
        slip.checked()


@pytest.mark.parametrize("name", EVERY)
def test_reads_as_text_and_as_markdown(name):
    """Each step shows its sentence and its equation in both forms."""
    derivation = EVERY[name]()
    text, markdown = str(derivation), derivation._repr_markdown_()
    for number, step in enumerate(derivation.steps, 1):
        assert f"{number}. {step.text}" in text
        assert f"**{number}.** {step.told}" in markdown
        assert not {"$", "sigma", "^", "\\"} & {*step.text, *step.text.split()}
        assert all(f"{sp.sstr(e.lhs)} = {sp.sstr(e.rhs)}" in text for e in step.equations)
        assert all(sp.latex(e.rhs) in markdown for e in step.equations)
        assert step._repr_latex_().startswith("$$")
    assert all(quantity.meaning in text for quantity in derivation.symbols)


def test_velocity_ratio_needs_a_known_kind_and_function_a_known_circuit():
    with pytest.raises(ValueError, match="there is a velocity ratio for four-bar, slider-crank, inverted"):
        lk.algebra.velocity_ratio("cam")
    with pytest.raises(ValueError, match='the circuit is "open" or "crossed", not \'left\''):
        lk.algebra.four_bar().function("left")
    with pytest.raises(TypeError, match="rocker"):
        lk.algebra.four_bar().function()(ground=1, crank=1, coupler=1, crank_angle=0)


@pytest.mark.parametrize("circuit", ["open", "crossed"])
@pytest.mark.parametrize("kind", LENGTHS)
def test_velocity_ratios_are_the_slopes_of_the_positions(kind, circuit):
    """Against central differences of the position function, which they were not derived from."""
    theta, step = np.linspace(0.1, 6.1, 50), 1e-4
    place, rate = EVERY[kind]().function(circuit), lk.algebra.velocity_ratio(kind).function(circuit)
    ahead, behind = (place(**LENGTHS[kind], crank_angle=theta + h) for h in (step, -step))
    ratios = rate(**LENGTHS[kind], crank_angle=theta)
    for name in ahead._fields:
        slope = getattr(ahead, name) - getattr(behind, name)
        if name.endswith("angle"):
            slope = np.angle(np.exp(1j * slope))
        ratio = getattr(ratios, name.replace("_angle", "_ratio").replace("_position", "_ratio"))
        assert ratio == pytest.approx(slope / (2 * step), abs=DIFFERENCE)


@pytest.mark.parametrize("circuit", ["open", "crossed"])
def test_velocity_ratios_are_those_of_move(circuit):
    """The constraint equations of the core, differentiated there, give the same rates."""
    theta = np.linspace(0, 6, 100)
    motion = lk.move(lk.four_bar(**LENGTHS["four-bar"], circuit=circuit), theta, speed=1.0)
    ratios = lk.algebra.velocity_ratio().function(circuit)(**LENGTHS["four-bar"], crank_angle=theta)
    assert motion.angular_velocity("rocker") == pytest.approx(ratios.rocker_ratio, abs=CLOSURE)
    assert motion.angular_velocity("coupler") == pytest.approx(ratios.coupler_ratio, abs=CLOSURE)
    engine = lk.move(lk.slider_crank(**LENGTHS["slider-crank"]), theta, speed=1.0)
    ratios = lk.algebra.velocity_ratio("slider-crank").function()(**LENGTHS["slider-crank"], crank_angle=theta)
    assert engine.velocity("B") == pytest.approx(ratios.slider_ratio, abs=CLOSURE)
    assert engine.angular_velocity("rod") == pytest.approx(ratios.rod_ratio, abs=CLOSURE)


@pytest.mark.parametrize("circuit", ["open", "crossed"])
def test_freudenstein_holds_round_the_cycle(circuit):
    """K1 cos(rocker) - K2 cos(crank) + K3 = cos(crank - rocker) at every position that `move` finds."""
    motion = lk.move(lk.four_bar(**LENGTHS["four-bar"], circuit=circuit))
    ratios = lk.algebra.freudenstein().function()(**LENGTHS["four-bar"])
    theta, psi = motion.angle("crank"), motion.angle("rocker")
    left = ratios.k1 * np.cos(psi) - ratios.k2 * np.cos(theta) + ratios.k3
    assert left == pytest.approx(np.cos(theta - psi), abs=CLOSURE)


def test_importing_linkkit_leaves_sympy_alone():
    """The closed forms are loaded when they are used, not before."""
    script = "import sys, linkkit; print('sympy' in sys.modules, linkkit.algebra and 'sympy' in sys.modules)"
    told = subprocess.run([sys.executable, "-c", script], check=True, timeout=60, capture_output=True)
    assert told.stdout.split() == [b"False", b"True"]
