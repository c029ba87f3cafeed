"""A four-bar by sympy.physics.mechanics, a general-purpose library: accelerations by Kane's method, and the force in a
pin by Lagrange's.

sympy has the loop as two constraints on three angles; nothing of linkkit's constraint equations enters.
"""

import numpy as np
import pytest
import sympy as sp
from sympy.physics import mechanics as me

import linkkit as lk
from tolerances import CLOSURE

GROUND, CRANK, COUPLER, ROCKER = 0.40, 0.10, 0.35, 0.25
MASS = {"crank": 1.2, "coupler": 2.1, "rocker": 1.7}
INERTIA = {"crank": 0.002, "coupler": 0.03, "rocker": 0.012}
CENTRE = {"crank": (0.04, 0.01), "coupler": (0.15, 0.06), "rocker": (0.12, -0.02)}  # along and across, m
G, TORQUE, SPEED = 9.81, 0.7, 12.0


def kane():
    """The equations M q'' = f of three links turned by angles q, closed at B; as a numerical function."""
    q, u = me.dynamicsymbols("q:3"), me.dynamicsymbols("u:3")
    frame, origin = me.ReferenceFrame("N"), me.Point("O")
    origin.set_vel(frame, 0)
    start = {"crank": origin, "coupler": None, "rocker": origin.locatenew("Q", GROUND * frame.x)}
    start["rocker"].set_vel(frame, 0)
    bodies, loads, ends = [], [], {}
    for n, (name, length) in enumerate({"crank": CRANK, "coupler": COUPLER, "rocker": ROCKER}.items()):
        turned = frame.orientnew(name, "Axis", [q[n], frame.z])
        turned.set_ang_vel(frame, u[n] * frame.z)
        pin = start[name] or ends["crank"]
        centre = pin.locatenew(f"G{name}", CENTRE[name][0] * turned.x + CENTRE[name][1] * turned.y)
        ends[name] = pin.locatenew(f"E{name}", length * turned.x)
        for point in (centre, ends[name]):
            point.v2pt_theory(pin, frame, turned)
        inertia = (me.inertia(turned, 0, 0, INERTIA[name]), centre)
        bodies.append(me.RigidBody(name, centre, turned, MASS[name], inertia))
        loads += [(centre, -MASS[name] * G * frame.y)] + [(turned, TORQUE * frame.z)] * (name == "crank")
    gap = ends["coupler"].pos_from(origin) - ends["rocker"].pos_from(origin)
    closing = [gap.dot(frame.x), gap.dot(frame.y)]
    rates = [a - b.diff() for a, b in zip(u, q, strict=True)]
    speeds = [c.diff().subs(dict(zip([x.diff() for x in q], u, strict=True))) for c in closing]
    method = me.KanesMethod(
        frame, q_ind=[q[0]], u_ind=[u[0]], kd_eqs=rates, q_dependent=q[1:], u_dependent=u[1:],
        configuration_constraints=closing, velocity_constraints=speeds,
    )  # fmt: skip
    method.kanes_equations(bodies, loads)
    return sp.lambdify([*q, *u], (method.mass_matrix, method.forcing), "numpy")


def linkage():
    bar = lk.four_bar(GROUND, CRANK, COUPLER, ROCKER)
    masses = {k: lk.Mass(MASS[k], along=CENTRE[k][0], across=CENTRE[k][1], inertia=INERTIA[k]) for k in MASS}
    return bar, masses


def test_accelerations_under_torque_and_weight():
    """Twelve positions at speed; the crank's acceleration follows from the torque, sympy's from Kane's equations."""
    (bar, masses), equations = linkage(), kane()
    for theta in np.linspace(0.2, 6.0, 12):
        run = lk.run_up(bar, 1e-3, masses=masses, loads={"crank": TORQUE}, gravity=G, start=theta, speed=SPEED,
                        times=[0.0])  # fmt: skip
        motion = run.motion
        angles = [float(motion.angle(k)[0]) for k in MASS]
        rates = [float(motion.angular_velocity(k)[0]) for k in MASS]
        matrix, forcing = equations(*angles, *rates)
        wanted = np.linalg.solve(matrix, np.ravel(forcing))
        found = [float(motion.angular_acceleration(k)[0]) for k in MASS]
        assert found == pytest.approx(wanted, rel=100 * CLOSURE, abs=100 * CLOSURE * SPEED**2)


def lagrange():
    """The equations M (q', q'', force at B) = f from the energies, as a numerical function of angles and rates."""
    q, rates = me.dynamicsymbols("q:3"), me.dynamicsymbols("q:3", 1)
    time = me.dynamicsymbols._t
    place = lambda angle, along, across=0.0: sp.Matrix(  # noqa: E731
        [along * sp.cos(angle) - across * sp.sin(angle), along * sp.sin(angle) + across * sp.cos(angle)]
    )
    crank_pin, pivot = place(q[0], CRANK), sp.Matrix([GROUND, 0])
    starts = {"crank": sp.zeros(2, 1), "coupler": crank_pin, "rocker": pivot}
    energy = 0
    for n, (name, start) in enumerate(starts.items()):
        centre = start + place(q[n], *CENTRE[name])
        speed = centre.diff(time)
        energy += (MASS[name] * speed.dot(speed) + INERTIA[name] * rates[n] ** 2) / 2 - MASS[name] * G * centre[1]
    gap = crank_pin + place(q[1], COUPLER) - pivot - place(q[2], ROCKER)
    torque = me.ReferenceFrame("crank")
    torque.set_ang_vel(frame := me.ReferenceFrame("N"), rates[0] * frame.z)
    method = me.LagrangesMethod(energy, q, hol_coneqs=list(gap), forcelist=[(torque, TORQUE * frame.z)], frame=frame)
    method.form_lagranges_equations()
    return sp.lambdify([*q, *rates], (method.mass_matrix_full, method.forcing_full), "numpy")


def test_force_in_the_pin_of_coupler_and_rocker():
    """Lagrange's multipliers of the loop at B: the force on the coupler there."""
    (bar, masses), equations = linkage(), lagrange()
    for theta in np.linspace(0.2, 6.0, 12):
        motion = lk.run_up(bar, 1e-3, masses=masses, loads={"crank": TORQUE}, gravity=G, start=theta, speed=SPEED,
                           times=[0.0]).motion  # fmt: skip
        angles = [float(motion.angle(k)[0]) for k in MASS]
        rates = [float(motion.angular_velocity(k)[0]) for k in MASS]
        matrix, forcing = equations(*angles, *rates)
        *_, x, y = np.linalg.solve(matrix, np.ravel(forcing))
        found = lk.forces(motion, masses=masses, loads={"crank": TORQUE}, gravity=G)
        assert found.pin("B", "coupler")[0] == pytest.approx(complex(x, y), rel=1000 * CLOSURE)
