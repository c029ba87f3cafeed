"""Flywheels: how unevenly a machine runs, and the inertia that keeps it within bounds.

While the torque that drives exceeds the one that resists, energy goes into the flywheel; the range of that energy
over a cycle, divided by the inertia and the square of the mean speed, is the coefficient of fluctuation of speed.
Source: any text on the theory of machines, under turning-moment diagrams.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .errors import LinkageError
from .quantity import positive, real

CAUTION = (
    "A flywheel that bursts kills. Inertia alone is no design: the rim's stress grows with the square of its speed; "
    "material, joints, keys, guards and the highest speed are for a qualified engineer under the local codes."
)


@dataclass(frozen=True)
class Fluctuation:
    """How the energy of a machine swings over a cycle.

    Attributes
    ----------
    mean : float
        The mean torque, N m.
    energy : float
        The greatest less the least energy, J.
    highest, lowest : float
        The input angles of the greatest and the least energy, radians: of the greatest and the least speed.
    work : float
        The work of one cycle, J.
    """

    mean: float
    energy: float
    highest: float
    lowest: float
    work: float

    @property
    def coefficient(self):
        """The coefficient of fluctuation of energy: `energy` over the work of a cycle."""
        return self.energy / abs(self.work) if self.work else np.inf


@dataclass(frozen=True)
class Flywheel:
    """The inertia that a flywheel needs, kg m2, and what a reader must bear in mind."""

    inertia: float
    caution: str = CAUTION

    def mass(self, radius):
        """The mass with that radius of gyration (metres): kg. For a thin rim this is its mean radius."""
        return self.inertia / radius**2

    def __str__(self):
        return f"moment of inertia {self.inertia:.6g} kg m2. {self.caution}"


def energy_fluctuation(torque, angle, period=None) -> Fluctuation:
    """The swing of energy where a torque of the crank meets an even torque against it, or the reverse.

    Parameters
    ----------
    torque : float array
        Shape (n,): N m at those angles, such as the surplus of driving over resisting torque.
    angle : float array
        Shape (n,): radians, rising, over one cycle without its end.
    period : float, optional
        The length of the cycle, radians: one turn if not given, ``4 * np.pi`` for a four-stroke engine.

    Examples
    --------
    A torque that varies as a sine of amplitude 10 N m swings the energy by 20 J.

    >>> import numpy as np
    >>> t = np.arange(360) * np.pi / 180
    >>> round(energy_fluctuation(50 + 10 * np.sin(t), t).energy, 6)
    20.0
    """
    from scipy.interpolate import CubicSpline

    period = 2 * np.pi if period is None else period
    torque = real(torque, "the torque must be known over the whole cycle")
    angle = real(angle, "the angles must be a row of numbers")
    if np.ndim(torque) != 1 or np.shape(torque) != np.shape(angle) or len(angle) < 3 or np.any(np.diff(angle) <= 0):
        raise LinkageError("torque and angle must be two rows of equally many numbers, the angles rising")
    if angle[-1] - angle[0] >= period:
        raise LinkageError(f"the angles span more than the cycle of {period:.6g} rad: leave its end out")
    curve = CubicSpline(np.append(angle, angle[0] + period), np.append(torque, torque[0]), bc_type="periodic")
    work = float(curve.integrate(angle[0], angle[0] + period))
    level = curve.solve(work / period, extrapolate=False)
    spots = np.concatenate([angle, level[np.isfinite(level)]])
    store = curve.antiderivative()
    energy = store(spots) - work / period * (spots - angle[0])
    high, low = np.argmax(energy), np.argmin(energy)
    return Fluctuation(work / period, float(np.ptp(energy)), float(spots[high]), float(spots[low]), work)


def fluctuation_of_areas(areas) -> float:
    """The swing of energy from the areas between the torque curve and its mean, in order, each with its sign.

    Examples
    --------
    >>> fluctuation_of_areas([52, -124, 92, -140, 85, -72, 107])
    172.0
    """
    levels = np.concatenate([[0.0], np.cumsum(np.asarray(areas, dtype=float))])
    return float(np.ptp(levels))


def flywheel_for(energy, speed, coefficient) -> Flywheel:
    """The flywheel that keeps the speed within a coefficient of fluctuation.

    Parameters
    ----------
    energy : float
        The swing of energy, J, as from `energy_fluctuation`.
    speed : float
        The mean speed, rad/s.
    coefficient : float
        The greatest less the least speed, over the mean speed.

    Returns
    -------
    Flywheel
        Prints with the cautions that belong to it.

    Examples
    --------
    >>> flywheel_for(1000.0, 50.0, 0.02).inertia
    20.0
    """
    for what, x in (("energy", energy), ("speed", speed), ("coefficient", coefficient)):
        positive(x, f"the {what} must be a number")
    return Flywheel(float(energy) / (coefficient * speed**2))


def speed_fluctuation(energy, inertia, speed):
    """The coefficient of fluctuation of speed that a flywheel of some inertia (kg m2) leaves.

    Examples
    --------
    >>> float(speed_fluctuation(1000.0, 20.0, 50.0))
    0.02
    """
    inertia = positive(inertia, "the inertia must be a number")
    return energy / (inertia * positive(speed, "the speed must be a number") ** 2)
