"""Moving a linkage: whole cycles at once."""

from __future__ import annotations

from functools import cached_property
from math import isfinite
from typing import TYPE_CHECKING

import numpy as np

from .breakdown import linkage_groups
from .change_points import flips_of
from .dyads import circle
from .errors import LinkageError
from .linkage import is_family, known
from .placing import sketched
from .quantity import real, shown, spot, together

if TYPE_CHECKING:
    from .rates import Rates

LONG = 4096  # positions of a cycle: longer ones are not kept
NONE = np.zeros(0)  # no change points
NONE.flags.writeable = False
CLOSES = 1e-9  # of the longest link: a redundant pairing that is open by more cannot be assembled


class Motion:
    """A linkage at many positions: arrays over the cycle, the last axis.

    Attributes
    ----------
    linkage : Linkage
    input : float array
        The values of the input that drives, radians or metres.
    inputs : dict
        The values of every input by name.
    shape : tuple
        The shape of every array: a family's own axes, then the cycle.
    change_points : float array
        Values of the input within the range, where the motion could have gone on in more than one way. It was taken
        the way in which the links go on moving smoothly. In a family they are not looked for: each member keeps the
        side on which it is sketched, so a member with change points is moved by itself.

    Where the linkage cannot be assembled, `ok` is false and points, angles and rates are nan.
    """

    def __init__(self, linkage, drive, inputs, rates=None, places=None, change_points=(), shape=None):
        self.linkage, self.drive, self.inputs = linkage, drive, inputs
        if shape is not None:
            self.__dict__["shape"] = shape
        self._places = places
        self.change_points = np.asarray(change_points, dtype=float) if len(change_points) else NONE
        self._speeds = rates or ({}, {})
        self._shared = {}

    @property
    def input(self):
        """The values of the driving input, radians or metres."""
        return self.inputs[self.drive]

    @cached_property
    def shape(self):
        """The shape of every array of this motion."""
        points = (np.shape(z) for z in self.linkage.points.values())
        return np.broadcast_shapes(*(np.shape(v) for v in self.inputs.values()), *points)

    @cached_property
    def ok(self):
        """Where the linkage can be assembled (bool array)."""
        good = np.True_
        for found in self._places.found:
            good = good & np.isfinite(found) if good is not np.True_ else np.isfinite(found)
        if good.shape != self.shape:
            good = np.array(np.broadcast_to(good, self.shape))
        if self.linkage.__dict__.get("_redundant"):
            with np.errstate(invalid="ignore"):
                good &= self.residual <= CLOSES * self._extent
        return good

    @cached_property
    def _all_ok(self):
        if self.linkage.__dict__.get("_redundant"):
            return bool(self.ok.all())
        return all(np.isfinite(found).all() for found in self._places.found)

    @cached_property
    def residual(self):
        """The largest distance by which any pair fails to close, metres; nan where not assembled."""
        from .constraint import closure

        with np.errstate(all="ignore"):
            return closure(self._places, self.shape)

    def point(self, name):
        """Where a point is: complex array, metres."""
        self.linkage._know_points(name)
        return self._full(self._places.at(self.linkage.carriers[name][0], name), name_of=self.linkage.carriers[name])

    def place(self, link, z):
        """Where the sketch point z (complex, metres), carried by a link, is: complex array, metres."""
        self.linkage._know_links(link)
        if not isinstance(z, (complex, np.ndarray)):
            z = spot(z, f"a place on {link} must be a complex number x + iy in metres")
        return self._full(self._places.carry(link, z), name_of=(link,))

    def rotation(self, link):
        """The complex number of modulus 1 that turns a link from its sketched direction to its present one."""
        self.linkage._know_links(link)
        return self._full(self._places.u[link], name_of=(link,))

    def angle(self, link):
        """The direction of a link, radians anticlockwise from +x.

        From its first point to its second; a link with fewer points has the direction of its slide. Continuous along
        the last axis, starting between -pi and pi.
        """
        turned = np.angle(self.rotation(link) * self.linkage.heading(link))
        return _unwrapped(turned) if np.ndim(turned) else turned

    def displacement(self, slide):
        """How far a block is along its slide, metres, from the guide's first point to the block's first point."""
        s = self.linkage.slide(slide)
        zg, zb = ((self.linkage.links[k] or [None])[0] for k in (s.on, s.block))
        start = s.through if zg is None else self.linkage.points[zg]
        end = s.through if zb is None else self.linkage.points[zb]
        along = self.rotation(s.on) * s.direction
        return (np.conj(along) * (self.place(s.block, end) - self.place(s.on, start))).real

    def with_speed(self, speed=0.0, acceleration=0.0) -> Motion:
        """The same positions at another speed of the input (rad/s or m/s); the geometry is not solved again.

        `speed` and `acceleration` belong to the driving input; a dict gives them for several inputs by name.
        """
        rates = _rates(self.linkage, self.drive, self.shape, speed, acceleration)
        other = Motion(self.linkage, self.drive, self.inputs, rates, self._places, self.change_points)
        other._shared = self._shared
        for kept in ("ok", "shape", "residual"):
            if kept in self.__dict__:
                other.__dict__[kept] = self.__dict__[kept]
        return other

    def velocity(self, name):
        """The velocity of a point: complex array, m/s."""
        link = self._carrier(name)
        v, w = self._velocities[link]
        return self._full(v + 1j * w * self._arm(link, name), name_of=(link,))

    def acceleration(self, name):
        """The acceleration of a point: complex array, m/s2."""
        link = self._carrier(name)
        a, alpha = self._accelerations[link]
        w = self._velocities[link][1]
        return self._full(a + (1j * alpha - w * w) * self._arm(link, name), name_of=(link,))

    def velocity_at(self, link, spot):
        """The velocity of that point of a link which is now at `spot` (complex array, metres): m/s."""
        self.linkage._know_links(link)
        v, w = self._velocities[link]
        return self._full(v + 1j * w * (spot - self._places.anchor[link][1]), name_of=(link,))

    def acceleration_at(self, link, spot):
        """The acceleration of that point of a link which is now at `spot` (complex array, metres): m/s2."""
        self.linkage._know_links(link)
        (a, alpha), w = self._accelerations[link], self._velocities[link][1]
        arm = spot - self._places.anchor[link][1]
        return self._full(a + (1j * alpha - w * w) * arm, name_of=(link,))

    def angular_velocity(self, link):
        """The angular velocity of a link, rad/s, anticlockwise positive."""
        self.linkage._know_links(link)
        return self._full(self._velocities[link][1], name_of=(link,))

    def angular_acceleration(self, link):
        """The angular acceleration of a link, rad/s2, anticlockwise positive."""
        self.linkage._know_links(link)
        return self._full(self._accelerations[link][1], name_of=(link,))

    @property
    def speed(self):
        """The speed of the driving input over the cycle, rad/s or m/s."""
        return np.broadcast_to(self._speeds[0].get(self.drive, 0.0), self.shape)

    @property
    def speeds(self) -> dict:
        """The speeds of the inputs that were told to move, by name."""
        return self._speeds[0]

    @property
    def weights(self) -> list:
        """The weights of unit terms: the inputs' accelerations, then products of speeds as in ``rates.pairs``."""
        speeds, accelerations = self._speeds
        firsts = [accelerations.get(name, 0.0) for name in self.rates.names]
        return firsts + [self.rates.weight(pair, speeds) for pair in self.rates.pairs]

    def beside(self, places, spots) -> Motion:
        """This motion at `places` around some positions, a row for each; speeds as at those positions."""
        near = lambda x: np.broadcast_to(x, self.shape).ravel()[spots][:, None] if np.ndim(x) else x  # noqa: E731
        rates = tuple({name: near(x) for name, x in told.items()} for told in self._speeds)
        return Motion(self.linkage, self.drive, places.inputs, rates, places)

    @property
    def singular(self):
        """Where the inputs do not decide the rates of some links: at a dead centre or a change point (bool array).

        Rates are there the limit from both sides, and nan where there is none.
        """
        return self.rates.singular & self.ok

    @property
    def rates(self) -> Rates:
        """The kinematic coefficients of this geometry, shared by all its speeds."""
        if "rates" not in self._shared:
            from .rates import Rates

            self._shared["rates"] = Rates(self._places, self.shape, self.drive)
        return self._shared["rates"]

    @cached_property
    def _velocities(self):
        with np.errstate(all="ignore"):
            return self.rates.velocity(self._speeds[0])

    @cached_property
    def _accelerations(self):
        with np.errstate(all="ignore"):
            return self.rates.acceleration(*self._speeds)

    def _carrier(self, name):
        """The link of a point that is placed first: it may have rates where a later one has none."""
        self.linkage._know_points(name)
        order = [link for group in linkage_groups(self.linkage) for link in group.links]
        return min(self.linkage.carriers[name], key=order.index)

    def _arm(self, link, name):
        return self._places.u[link] * (self.linkage.shape(link, name) - self._places.anchor[link][0])

    def _full(self, value, name_of):
        """The value over the whole cycle; nan where the linkage is not assembled, except on the fixed link."""
        value = np.asarray(value)
        if value.shape != self.shape:
            value = np.full(self.shape, value)
        if self.linkage.fixed not in name_of and not self._all_ok:
            value = np.where(self.ok, value, complex(np.nan, np.nan) if np.iscomplexobj(value) else np.nan)
        return value if value.ndim else value[()]

    @cached_property
    def _extent(self):
        points = self.linkage.points.values()
        return max((np.fmax.reduce(np.abs(z), axis=None, initial=0.0) for z in points), default=1.0)


def move(linkage, input_angle=None, *, steps=360, speed=0.0, acceleration=0.0, held=None, drive=None) -> Motion:
    """Move a linkage through a cycle, or to the positions asked for.

    Parameters
    ----------
    linkage : Linkage
    input_angle : float or array, optional
        Values of the driving input: radians, or metres for a slide; they broadcast against a family. If it is not
        given, the input goes through `steps` equal steps of one turn from 0 (a pin), or of its span, ends included.
    speed, acceleration : float, array or dict
        Of the driving input: rad/s and rad/s2, or m/s and m/s2. A dict gives them for several inputs by name.
    held : dict of str to float, optional
        Where the other inputs are held; as sketched if not named.
    drive : str, optional
        The input that drives; the first one if not given.

    Returns
    -------
    Motion

    Raises
    ------
    LinkageError
        If there is no input, or the inputs do not decide where every link goes.

    Examples
    --------
    >>> import linkkit as lk, numpy as np
    >>> bar = lk.four_bar(0.100, 0.040, 0.120, 0.080)
    >>> round(float(np.degrees(lk.move(bar, np.radians(40)).angle("rocker"))), 3)
    57.325
    """
    drive, held = _driving(linkage, drive, held)
    _check_freedom(linkage)
    values = _sweep(linkage, drive, steps) if input_angle is None else _values(input_angle)
    inputs = {drive: values} | held
    points = linkage.points.values() if is_family(linkage) else ()
    shape = together(*inputs.values(), *points, what="the inputs and the linkage")
    with np.errstate(all="ignore"):
        places, change_points = flips_of(linkage, drive, inputs)
    return Motion(
        linkage, drive, inputs, _rates(linkage, drive, shape, speed, acceleration), places, change_points, shape
    )


def _driving(linkage, drive, held):
    if not known(linkage).inputs:
        raise LinkageError("the linkage has no input: say which pin is turned or which slide is pushed")
    if drive is held is None and len(linkage.inputs) == 1:
        return linkage.inputs[0].name, {}
    drive = linkage.inputs[0].name if drive is None else drive
    _know_input(linkage, drive)
    fixed = {i.name: sketched(linkage, i) for i in linkage.inputs if i.name != drive}
    if not isinstance(held or {}, dict):
        raise LinkageError(f"held must be a dict from the name of an input to its value, not {shown(held)}")
    for name, value in (held or {}).items():
        _know_input(linkage, name)
        if name == drive:
            raise LinkageError(f"{name} drives, so it cannot be held; name another input with drive=")
        fixed[name] = _values(value)
    return drive, fixed


def _check_freedom(linkage):
    """Refuse more inputs than freedoms, which show as a link that is held on all sides."""
    if "_redundant" not in linkage.__dict__:
        redundant = any(group.kind == "carried" for group in linkage_groups(linkage))
        if redundant and not is_family(linkage):
            from .mobility import too_many_inputs

            if sentence := too_many_inputs(linkage):
                raise LinkageError(sentence)
        linkage.__dict__["_redundant"] = redundant


def _know_input(linkage, name):
    names = [i.name for i in linkage.inputs]
    if name not in names:
        raise LinkageError(f"there is no input {shown(name)}; the inputs are {', '.join(names)}")


def _values(given):
    return real(given, "an input must be a number or an array of numbers (radians or metres)")


def _rates(linkage, drive, shape, speed, acceleration):
    """Speeds and accelerations of the inputs, by name."""
    if type(speed) is type(acceleration) is float and isfinite(speed + acceleration):
        return {drive: speed}, {drive: acceleration}
    found = []
    for what, given in (("speed", speed), ("acceleration", acceleration)):
        rates = given if isinstance(given, dict) else {drive: given}
        for name in rates:
            _know_input(linkage, name)
        rates = {name: real(rate, f"{what} must be a number, or one for each position") for name, rate in rates.items()}
        if together(np.broadcast_to(0.0, shape), *rates.values(), what=f"positions and {what}") != shape:
            raise LinkageError(
                f"{what} has more values than there are positions: it needs one for each, or one for all"
            )
        found.append(rates)
    return tuple(found)


def _sweep(linkage, drive, steps):
    if isinstance(steps, bool) or not isinstance(steps, (int, np.integer)) or steps < 1:
        raise LinkageError(f"steps must be a whole number of at least 1, not {steps!r}")
    i = next(i for i in linkage.inputs if i.name == drive)
    if i.span is not None:
        return np.linspace(*i.span, steps)
    if i.kind == "distance":
        raise LinkageError(f"input {drive} is a distance: give the values to move through, or a span in the machine")
    return circle(int(steps)) if steps <= LONG else np.arange(steps) * (2 * np.pi / steps)


def _unwrapped(angle):
    """The same angles without jumps of a whole turn along the last axis; nan is passed over."""
    step = np.diff(angle)
    if np.isnan(np.vdot(step, step)):
        return np.apply_along_axis(_unwrap_known, -1, angle)
    turns = np.round(step / (2 * np.pi))
    if turns.any():
        angle[..., 1:] -= 2 * np.pi * np.cumsum(turns, axis=-1)
    return angle


def _unwrap_known(row):
    good = np.isfinite(row)
    row = row.copy()
    row[good] = np.unwrap(row[good])
    return row


__all__ = ["Motion", "is_family", "move"]
