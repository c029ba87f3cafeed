"""Peak values of a machine at speed: how large each rate and force becomes, and where in the cycle."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .forces import forces
from .motion import move
from .reach import reach
from .relative import sliding

GRID, FINE, EVEN = 720, 41, 1e-12
CAUTION = (
    "Ideal links without play, wear or impact: before a machine is run at such speeds it needs guards, a margin of "
    "safety, and the judgement of a qualified engineer under the local codes."
)


@dataclass(frozen=True)
class Peak:
    """One peak: `what` it is, `where` (a point, link, pin or slide), its `value` in `unit`, and `at` which input.

    The value is a magnitude; infinite where it grows without bound towards the input value `at`, a dead centre.
    `at` is in radians or metres, and nan where the value is the same throughout.
    """

    what: str
    where: str
    value: float
    unit: str
    at: float


def peaks(linkage, speed, *, gravity=0.0) -> list[Peak]:
    """The peak rates of all links, points and slides at one speed of the input, and the forces if masses are given.

    What is zero throughout is left out.

    Parameters
    ----------
    linkage : Linkage
        With `masses` for the forces of inertia (and of weight, with `gravity` in m/s2).
    speed : float
        Of the first input, rad/s or m/s, held even.

    Examples
    --------
    >>> import linkkit as lk
    >>> found = peaks(lk.machine("ice-chopper"), 10.0)
    >>> [(p.what, round(p.value, 3), p.unit) for p in found if p.where == "A"]
    [('velocity', 1.0, 'm/s'), ('acceleration', 10.0, 'm/s2')]
    """
    whole = reach(linkage)
    again = lambda values: move(linkage, values, speed=speed)  # noqa: E731
    motion = again(whole.values(GRID))
    bounds = (-np.inf, np.inf) if whole.round else whole.here
    found = [_peak(*row, again, motion, bounds) for row in _rows(linkage, gravity)]
    most = {p.unit: 0.0 for p in found}
    for p in found:
        most[p.unit] = max(most[p.unit], p.value if np.isfinite(p.value) else 0.0)
    return [p for p in found if p.value > EVEN * most[p.unit]]


def _rows(linkage, gravity):
    """What is looked at: (what, where, unit, a function from a motion to an array)."""
    for link in linkage.moving:
        yield "angular velocity", link, "rad/s", lambda m, k=link: m.angular_velocity(k)
        yield "angular acceleration", link, "rad/s2", lambda m, k=link: m.angular_acceleration(k)
    for point, carriers in linkage.carriers.items():
        if linkage.fixed not in carriers:
            yield "velocity", point, "m/s", lambda m, p=point: m.velocity(p)
            yield "acceleration", point, "m/s2", lambda m, p=point: m.acceleration(p)
    for s in linkage.slides:
        yield "sliding speed", s.name, "m/s", lambda m, s=s: sliding(m, s.name).speed
    if linkage.masses:
        yield from _force_rows(linkage, gravity)


def _force_rows(linkage, gravity):
    found = lambda m: forces(m, gravity=gravity)  # noqa: E731
    unit = "N m" if linkage.inputs[0].kind == "angle" else "N"
    yield "input", linkage.inputs[0].name, unit, lambda m: found(m).input_torque
    yield "shaking force", linkage.fixed, "N", lambda m: found(m).shaking_force
    for point, carriers in linkage.carriers.items():
        for link in carriers[1:]:
            yield "pin force", f"{point} on {link}", "N", lambda m, p=point, k=link: found(m).pin(p, k)
    for s in linkage.slides:
        yield "slide force", s.name, "N", lambda m, s=s: found(m).slide(s.name).normal


def _peak(what, where, unit, of, again, motion, bounds):
    """The greatest magnitude over the cycle, sharpened between positions."""
    size, values = np.abs(of(motion)), motion.input
    if not np.isfinite(size).any():
        return Peak(what, where, np.nan, unit, np.nan)
    n = int(np.nanargmax(size))
    lost = [k for k in (n - 1, n + 1) if 0 <= k < len(values) and np.isnan(size[k])]
    if lost and size[n] > 0:
        return Peak(what, where, np.inf, unit, float(values[lost[0]]))
    if np.ptp(size[np.isfinite(size)]) <= EVEN * size[n]:
        return Peak(what, where, float(size[n]), unit, np.nan)
    step = values[1] - values[0]
    fine = np.linspace(*np.clip([values[n] - step, values[n] + step], *bounds), FINE)
    close = np.abs(of(again(fine)))
    best = int(np.nanargmax(close))
    fine = fine % (2 * np.pi) if np.isinf(bounds[0]) else fine
    return Peak(what, where, float(close[best]), unit, float(fine[best]))
