"""Forces against statics by hand, and what is refused."""

import numpy as np
import pytest

import linkkit as lk
from tolerances import CLOSURE, DIFFERENCE

G = 9.81
BAR = lk.four_bar(0.4, 0.1, 0.35, 0.25)
ENGINE = lk.slider_crank(0.1, 0.4)
THETA = np.linspace(0.1, 6.2, 25)


def crank_alone(mass=None):
    """One link pinned to the ground."""
    turn = lk.Input("arm", "angle", "O", ("ground", "arm"))
    masses = {} if mass is None else {"arm": mass}
    links = {"ground": ("O",), "arm": ("O", "A")}
    return lk.Linkage({"O": 0, "A": 0.5}, links, "ground", inputs=(turn,), masses=masses)


def test_a_turning_bar():
    """m g x at its middle, m r w^2 towards the pin, I alpha about it; all of a uniform bar, by hand."""
    bar = crank_alone()
    mass = lk.uniform_bar(bar, "arm", 3.0)
    forces = lk.forces(lk.move(bar, THETA, speed=4.0, acceleration=2.0), masses={"arm": mass}, gravity=G)
    out = np.exp(1j * THETA)
    assert forces.input_torque == pytest.approx(3 * G * 0.25 * np.cos(THETA) + 3 * 0.5**2 / 3 * 2.0, rel=CLOSURE)
    pushed = 3 * 0.25 * (2j - 16) * out + 3j * G
    assert forces.pin("O") == pytest.approx(pushed, rel=CLOSURE)
    assert forces.pin("O", "ground") == pytest.approx(-pushed, rel=CLOSURE)
    assert forces.frame_force == pytest.approx(-pushed, rel=CLOSURE)
    assert forces.shaking_force == pytest.approx(-3 * 0.25 * (2j - 16) * out, rel=CLOSURE)


def test_slider_crank_by_the_rod_angle():
    """F tan phi on the slide, F / cos phi in the rod, F sin(theta + phi) / cos phi at the crank: any textbook."""
    forces = lk.forces(lk.move(ENGINE, THETA), loads={"slide": -500.0})
    phi = np.arcsin(0.1 * np.sin(THETA) / 0.4)
    assert forces.slide("slide").normal == pytest.approx(500 * np.tan(phi) * np.sign(1), rel=CLOSURE, abs=1e-9)
    assert abs(forces.pin("B")) == pytest.approx(500 / np.cos(phi), rel=CLOSURE)
    torque = -500 * 0.1 * np.sin(THETA + phi) / np.cos(phi)
    assert forces.input_torque == pytest.approx(torque, rel=100 * CLOSURE, abs=1e-9)
    assert forces.slide("slide").moment == pytest.approx(0, abs=1e-9)


def test_gas_pushes_cylinder_and_piston():
    """The force along a slide acts on both its links; without the reaction the frame feels the block's share only."""
    motion = lk.move(ENGINE, THETA)
    closed = lk.forces(motion, loads=[lk.SlideForce("slide", -500.0)])
    open_ended = lk.forces(motion, loads=[lk.SlideForce("slide", -500.0, reaction=False)])
    assert abs(closed.frame_force) == pytest.approx(0, abs=1e-9)
    assert open_ended.frame_force == pytest.approx(-500, rel=CLOSURE)
    assert closed.input_torque == pytest.approx(open_ended.input_torque)


def test_slide_reaction_moment():
    """A force beside the slide's line is carried as a moment: 200 N, 30 mm to the left of the block's point."""
    block = ENGINE.with_point("slider", "C", 0.0, 0.03)
    found = lk.forces(lk.move(block, THETA), loads={"C": 200.0}).slide("slide")
    assert found.moment == pytest.approx(200 * 0.03, rel=CLOSURE)


def test_a_pin_through_three_links():
    """The forces that the pin gives to its links add up to nothing, or to the load on it turned about."""
    press = lk.move(lk.machine("fish-press"), THETA, speed=3.0)
    forces = lk.forces(press, masses={"rod": 4.0, "upper link": 2.0, "lower link": 2.0, "platen": 9.0})
    total = sum(forces.pin("B", link) for link in ("rod", "upper link", "lower link"))
    size = np.max(abs(forces.pin("B", "rod")))
    assert np.max(abs(total)) < CLOSURE * size
    assert np.min(abs(forces.pin("B", "rod"))) > 0


def test_spring_and_damper():
    """Between the frame and the end of an arm: by the length of the spring and its rate."""
    arm = crank_alone().with_point("ground", "S", 0.0, 1.0)
    motion = lk.move(arm, THETA, speed=2.0)
    forces = lk.forces(motion, loads=[lk.Spring("S", "A", 300.0, 0.2, damping=7.0)])
    gap = motion.point("A") - 1j
    pull = 300 * (abs(gap) - 0.2) + 7.0 * (np.conj(gap) * motion.velocity("A")).real / abs(gap)
    wanted = (np.conj(motion.point("A")) * pull * gap / abs(gap)).imag
    assert forces.input_torque == pytest.approx(wanted, rel=100 * CLOSURE, abs=1e-9)


def test_loads_that_are_arrays_functions_and_tables():
    """One and the same load in four forms."""
    motion = lk.move(ENGINE, THETA, speed=3.0)
    force = lambda s, v: -1000 * s - 20 * v  # noqa: E731
    far = motion.displacement("slide")
    given = force(far, lk.sliding(motion, "slide").speed)
    wanted = lk.forces(motion, loads={"slide": given}).input_torque
    assert lk.forces(motion, loads=[lk.SlideForce("slide", force)]).input_torque == pytest.approx(wanted)
    of_crank = lk.SlideForce("slide", lambda angle, speed: np.interp(angle, THETA, given), of="input")
    assert lk.forces(motion, loads=of_crank).input_torque == pytest.approx(wanted)
    rising = np.sort(far)
    table = lk.load_table(rising, -1000 * rising)
    found = lk.forces(motion.with_speed(0.0), loads=[lk.SlideForce("slide", table)]).input_torque
    assert found == pytest.approx(lk.forces(motion, loads={"slide": -1000 * far}).input_torque, rel=1e-9, abs=1e-9)


def test_a_table_may_repeat():
    """Twice round a four-stroke cycle, and back to its start."""
    table = lk.load_table([0.0, 1.0, 3.0, 12.0], [5.0, 1.0, 2.0, 4.0], period=4 * np.pi)
    assert table(1.0 + 8 * np.pi, None) == pytest.approx(1.0)
    assert table(4 * np.pi, None) == pytest.approx(5.0)


def test_weight_may_act_in_any_direction():
    motion = lk.move(crank_alone(lk.Mass(2.0, at="A")), [0.0])
    assert lk.forces(motion, gravity=G).pin("O")[0] == pytest.approx(2j * G)
    assert lk.forces(motion, gravity=3.0 + 0j).pin("O")[0] == pytest.approx(-6.0)


def test_two_inputs_have_a_torque_and_a_force():
    """The hoist's ram moves at rest of the crank: its force does the work of lifting the load, by difference."""
    hoist, step = lk.machine("crate-hoist"), 1e-5
    low, mid, high = (lk.move(hoist, [0.4], held={"ram": 1.5 + k * step}).point("R")[0].imag for k in (-1, 0, 1))
    motion = lk.move(hoist, [0.4], held={"ram": 1.5})
    found = lk.forces(motion, loads={"R": -800j})
    assert motion.point("R")[0].imag == mid
    assert found.input("ram")[0] == pytest.approx(800 * (high - low) / (2 * step), rel=DIFFERENCE)


def test_where_it_does_not_assemble_forces_are_nan():
    closer = lk.machine("hatch-closer")
    motion = lk.move(closer, steps=36)
    found = lk.forces(motion, loads={closer.moving[-1]: 1.0}).input_torque
    assert (np.isnan(found) == ~motion.ok).all()
    assert 0 < motion.ok.sum() < 36


def test_a_redundant_link_is_reported():
    from machines import RARE

    forces = lk.forces(lk.move(RARE["third_crank"], [0.5]), loads={"coupler": 1.0})
    assert any("statics cannot decide" in note for note in forces.notes)


MISTAKES = {
    "unknown link": ({"masses": {"flywheel": 2.0}}, "no link 'flywheel'"),
    "negative mass": ({"masses": {"rod": -2.0}}, "at least zero"),
    "mass in words": ({"masses": {"rod": "2 kg"}}, "at least zero"),
    "no centre": ({"masses": {"rod": lk.Mass(1.0)}}, "where the mass of rod has its centre"),
    "foreign centre": ({"masses": {"rod": lk.Mass(1.0, at="O")}}, "rod does not carry"),
    "unknown place of a load": ({"loads": {"Z": 1.0}}, "none of the linkage's points, slides and links"),
    "not a load": ({"loads": [3.0]}, "a load is a Force"),
    "array of another length": ({"loads": {"slide": np.ones(7)}}, "fits the cycle"),
    "nan": ({"loads": {"slide": np.nan}}, "must be finite"),
    "unknown slide": ({"loads": [lk.SlideForce("ways", 1.0)]}, "no slide 'ways'"),
    "wrong link at a point": ({"loads": [lk.Force("B", 1.0, on="crank")]}, "does not carry B"),
    "friction in the air": ({"friction": {"Z": lk.Friction(0.1)}}, "neither a pin nor a slide"),
    "pin without radius": ({"friction": {"A": lk.Friction(0.1)}}, "radius"),
    "gravity in words": ({"gravity": "down"}, "free fall"),
    "no number of gravity": ({"gravity": np.nan}, "free fall"),
}


@pytest.mark.parametrize("mistake", MISTAKES)
def test_mistakes_are_told(mistake):
    given, words = MISTAKES[mistake]
    with pytest.raises(lk.LinkageError, match=words):
        lk.forces(lk.move(ENGINE, THETA), **given).input_torque  # noqa: B018 - asked for, so that loads are looked at


def test_asking_for_what_is_not_there():
    forces = lk.forces(lk.move(ENGINE, THETA))
    with pytest.raises(lk.LinkageError, match="no pin"):
        forces.pin("A", "slider")
    with pytest.raises(lk.LinkageError, match="no slide"):
        forces.slide("ways")
    with pytest.raises(lk.LinkageError, match="no input"):
        forces.input("ram")
