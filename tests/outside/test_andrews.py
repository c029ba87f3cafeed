"""The seven-body squeezer (Andrews): W. Schiehlen (ed.), Multibody Systems Handbook, Springer 1990; E. Hairer and
G. Wanner, Solving Ordinary Differential Equations II, 2nd ed., ch. VII.7, pp. 530-542; F. Mazzia and C. Magherini, Test
Set for Initial Value Problem Solvers, problem 'andrews'.

Three loops, one freedom: the crank K1, driven by a torque, throws the pin P at which K2, K3, K4 and K6 meet. The test set
prints the state at 0.03 s to 16 digits; recomputed by two routes, its positions hold to 1e-10 and its velocities to
3e-8, its accelerations and multipliers to 1.3e-6.
"""

import numpy as np
import pytest

import linkkit as lk
from tolerances import CLOSURE

# parameters, SI
MASS = .04325, .00365, .02373, .00706, .07050, .00706, .05498  # fmt: skip
INERTIA = 2.194e-6, 4.410e-7, 5.255e-6, 5.667e-7, 1.169e-5, 5.667e-7, 1.912e-5
A, B, C = -.06934 - .00227j, -.03635 + .03273j, .014 + .072j  # fmt: skip
D, DA, E, EA, RR, RA, SS, SA, SB, SC, SD = .028, .0115, .02, .01421, .007, .00092, .035, .01874, .01043, .018, .02  # fmt: skip
TA, TB, U, UA, UB, ZF, ZT, FA = .02308, .00916, .04, .01228, .00449, .02, .04, .01421  # fmt: skip
STIFFNESS, SLACK, TORQUE = 4530.0, .07785, .033  # fmt: skip

# the consistent start: all velocities are 0
BETA, THETA, GAMMA, PHI = -0.0617138900142764496, 0.0, 0.455279819163070380, 0.222668390165885885
DELTA, OMEGA, EPSILON = 0.487364979543842550, -0.222668390165885885, 1.23054744454982119

LINK_ANGLES = {  # the angle of the source whose rate is the link's
    "K1": ("beta",), "K2": ("beta", "theta"), "K3": ("gamma",), "K4": ("phi", "delta"), "K5": ("delta",),
    "K6": ("Omega", "epsilon"), "K7": ("epsilon",),
}  # fmt: skip
END = {  # printed at 0.03 s: position, velocity, acceleration
    "beta": (0.1581077119629904e2, 0.1139920302151208e4, -0.2463176316945196e5),
    "theta": (-0.1575637105984298e2, -0.1424379294994111e4, 0.5185037701610329e5),
    "gamma": (0.4082224013073101e-1, 0.1103291221937134e2, 0.3241025686413781e6),
    "phi": (-0.5347301163226948, 0.1929337464421385e2, 0.5667493645176213e6),
    "delta": (0.5244099658805304, 0.5735699284790808, 0.1674362929479361e5),
    "Omega": (0.5347301163226948, -0.1929337464421385e2, -0.5667493645176222e6),
    "epsilon": (0.1048080741042263e1, 0.3231791658026955, 0.9826520791458422e4),
}
MULTIPLIERS = {  # at P, of the link's own constraint, x + iy; printed at 0.03 s
    "K3": 0.1991753333733910e3 - 0.2975531228015052e2j,
    "K4": 0.2306654119098399e2 + 0.3145271365475927e2j,
    "K6": 0.2264249232082739e2 + 0.1161740700019673e2j,
}
# the printed positions and velocities put into equations of motion and acceleration loops together
TIGHT_ACCELERATIONS = {
    "beta": -24631.764251, "theta": 51850.321376, "gamma": 324102.600587, "phi": 566749.421789,
    "delta": 16743.635403, "Omega": -566749.421789, "epsilon": 9826.507826,
}  # fmt: skip
TIGHT_MULTIPLIERS = {
    "K3": 199.175348054 - 29.755310059j,
    "K4": 23.066543602 + 31.452725248j,
    "K6": 22.642494778 + 11.617392379j,
}


def unit(angle):
    return np.exp(1j * angle)


def squeezer():
    """The bodies as links that share points, drawn in the start position."""
    f, e, h = RR * unit(BETA), A + ZT * unit(DELTA), A - 1j * U * unit(EPSILON)
    p, spring = f - D * unit(BETA + THETA), B + (SD - 1j * SC) * unit(GAMMA)
    points = {"O": 0j, "A": A, "B": B, "C": C, "F": f, "P": p, "E": e, "H": h, "D": spring}
    links = {"ground": ("O", "A", "B", "C"), "K1": ("O", "F"), "K2": ("F", "P"), "K3": ("B", "P", "D"),
             "K4": ("E", "P"), "K5": ("A", "E"), "K6": ("H", "P"), "K7": ("A", "H")}  # fmt: skip
    centres = (RA * unit(BETA), f - DA * unit(BETA + THETA), B + (SA + 1j * SB) * unit(GAMMA),
               e - 1j * (E - EA) * unit(PHI + DELTA), A + (TA + 1j * TB) * unit(DELTA),
               h + (ZF - FA) * unit(OMEGA + EPSILON), A + (UA + 1j * UB) * unit(EPSILON))  # fmt: skip
    masses = {f"K{n}": lk.Mass(m, at=z, inertia=i)
              for n, (m, z, i) in enumerate(zip(MASS, centres, INERTIA, strict=True), 1)}  # fmt: skip
    turn = lk.Input("beta", "angle", "O", ("ground", "K1"))
    return lk.Linkage(points, links, "ground", inputs=(turn,), masses=masses)


LOADS = [lk.Torque("K1", TORQUE), lk.Spring("C", "D", STIFFNESS, SLACK)]


def seen(motion, quantity, start=None):
    """The source's angles, rates or accelerations from those of the links."""
    link = {k: np.asarray(quantity(k)) for k in LINK_ANGLES}
    if start is not None:
        link = {k: x - x[0] for k, x in link.items()}
    found = {"beta": link["K1"], "theta": link["K2"] - link["K1"], "gamma": link["K3"], "phi": link["K4"] - link["K5"],
             "delta": link["K5"], "Omega": link["K6"] - link["K7"], "epsilon": link["K7"]}  # fmt: skip
    return {name: float(x[-1]) + (start or {}).get(name, 0.0) for name, x in found.items()}


@pytest.fixture(scope="module")
def run():
    times = np.linspace(0.0, 0.03, 2001)  # close enough for angles to be followed round
    return lk.run_up(squeezer(), 0.03, loads=LOADS, times=times, accuracy=1e-10)


def test_the_sketch_closes_and_has_one_freedom():
    """The three loops of the source close at P; seven links, ten turning pairs."""
    assert lk.mobility(squeezer()) == 1
    assert [chain.links for chain in lk.breakdown(squeezer())] == [("K2", "K3"), ("K4", "K5"), ("K6", "K7")]


def test_accelerations_at_the_start(run):
    """Printed to 24 digits; the other accelerations are 0."""
    start = lk.move(squeezer(), BETA, speed=0.0, acceleration=run.acceleration[0])
    found = seen(start, lambda k: np.atleast_1d(start.angular_acceleration(k)))
    wanted = {"beta": 14222.4439199541139, "theta": -10666.8329399655854}
    for name, value in found.items():
        assert value == pytest.approx(wanted.get(name, 0.0), rel=1e-11, abs=1e-8)


def test_multipliers_at_the_start(run):
    forces = lk.forces(run.motion, loads=LOADS)
    assert forces.pin("P", "K3")[0] == pytest.approx(98.5668703962410896 - 6.12268834425566503j, rel=1e-11)
    assert abs(forces.pin("P", "K4")[0]) < 1e-9
    assert abs(forces.pin("P", "K6")[0]) < 1e-9


def test_positions_and_velocities_at_the_end(run):
    start = {"beta": BETA, "theta": THETA, "gamma": GAMMA, "phi": PHI, "delta": DELTA, "Omega": OMEGA,
             "epsilon": EPSILON}  # fmt: skip
    angles, rates = seen(run.motion, run.motion.angle, start), seen(run.motion, run.motion.angular_velocity)
    for name, (position, velocity, _) in END.items():
        assert angles[name] == pytest.approx(position, rel=1e-8), name
        assert rates[name] == pytest.approx(velocity, rel=1e-6), name


def test_accelerations_and_multipliers_at_the_end(run):
    """As printed, within what the print holds."""
    found = seen(run.motion, run.motion.angular_acceleration)
    forces = lk.forces(run.motion, loads=LOADS)
    for name, (*_, acceleration) in END.items():
        assert found[name] == pytest.approx(acceleration, rel=1e-5), name
    for link, value in MULTIPLIERS.items():
        for part in ("real", "imag"):
            assert getattr(forces.pin("P", link)[-1], part) == pytest.approx(getattr(value, part), rel=1e-5)


def test_accelerations_at_the_printed_state():
    """The printed position and velocity of the crank alone decide everything else; its velocity is good to 3e-8."""
    position, velocity, acceleration = (value for value in END["beta"])
    motion = lk.move(squeezer(), [position], speed=velocity, acceleration=TIGHT_ACCELERATIONS["beta"])
    forces = lk.forces(motion, loads=LOADS)
    assert acceleration == pytest.approx(TIGHT_ACCELERATIONS["beta"], rel=1e-5)
    found = seen(motion, motion.angular_acceleration)
    for name, value in TIGHT_ACCELERATIONS.items():
        assert found[name] == pytest.approx(value, rel=2e-7), name
    for link, value in TIGHT_MULTIPLIERS.items():
        assert forces.pin("P", link)[0] == pytest.approx(value, rel=2e-7), link


def test_nothing_else_drives_the_crank(run):
    """The torque that the pairs still need at the crank is none: the run obeys the constraint equations' forces."""
    forces = lk.forces(run.motion, loads=LOADS)
    assert np.max(abs(forces.input_torque)) < CLOSURE * TORQUE
    assert np.max(abs(forces.power_error)) < CLOSURE
