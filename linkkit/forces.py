"""The door to static and kinetostatic forces: what they need is loaded when they are first asked for."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from .equilibrium import Forces


def forces(motion, *, masses=None, loads=(), gravity=0.0, friction=None) -> Forces:
    """The forces in a linkage that moves as told.

    Parameters
    ----------
    motion : Motion
        With the speeds and accelerations of its inputs.
    masses : dict of str to Mass or float, optional
        For each link that has mass; a number of kilograms is a uniform bar between the link's first two points, or
        a lump at its only point. The linkage's own masses if not given.
    loads : list of Load, or dict, optional
        `Force`, `SlideForce`, `Torque`, `Spring`, `TurnSpring`; or by name: the complex force at a point, the
        force along a slide, the torque on a link.
    gravity : float or complex, optional
        The acceleration of free fall, m/s2; a float acts towards -y. None by itself.
    friction : dict of str to Friction, optional
        For pins and slides by name; see `Friction` for its limits.

    Returns
    -------
    Forces

    Raises
    ------
    LinkageError
        For names that the linkage has not, and values that do not fit the cycle.

    Notes
    -----
    Rigid links, no play, no impact. Before anything is built or run by these numbers they need a margin of safety,
    guards, and the judgement of a qualified engineer under the local codes.

    Examples
    --------
    >>> import linkkit as lk
    >>> chopper = lk.move(lk.machine("ice-chopper"), [0.0, 0.5], speed=20.0)
    >>> found = lk.forces(chopper, masses={"blade": 4.0}, loads={"guide": -200.0})
    >>> found.input_torque.round(3)
    array([-23.63 , -23.158])
    """
    from .equilibrium import Forces
    from .friction import friction_of
    from .loads import fall, loads_of
    from .masses import masses_of

    g, linkage = fall(gravity), motion.linkage
    return Forces(motion, masses_of(linkage, masses), loads_of(linkage, loads), g, friction_of(linkage, friction), {})
