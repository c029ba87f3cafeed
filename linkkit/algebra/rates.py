"""Velocity ratios, by differentiating the loop equations."""

from dataclasses import dataclass
from functools import cache, partial

import sympy as sp

from linkkit.algebra import bars, sliders
from linkkit.algebra import manoeuvres as do
from linkkit.algebra.derivation import Derivation, Quantity, Step
from linkkit.algebra.poses import exact, rational

CRANK_SPEED = sp.Symbol("omega_crank", real=True)
CRANK = Quantity("omega_crank", CRANK_SPEED, "angular velocity of the crank")


@cache
def velocity_ratio(kind="four-bar"):
    """Velocity ratios of a one-loop linkage, by differentiating its loop equation.

    Parameters
    ----------
    kind : {"four-bar", "slider-crank", "inverted slider-crank"}

    Returns
    -------
    Derivation
        Its function takes the same arguments as the position function and returns the ratios to
        the crank's angular velocity: ``rocker_ratio`` and ``coupler_ratio``; ``slider_ratio`` (metres a
        radian) and ``rod_ratio``; ``lever_ratio`` and ``block_ratio`` (metres a radian).

    Raises
    ------
    ValueError
        For any other kind.

    Notes
    -----
    The loop equation is looked at along a link, so that its own turning drops out: the usual way in
    textbooks, for instance R. L. Norton, Design of Machinery, chapter 6.

    Examples
    --------
    At right angles to the slide the crank pin moves as fast as the slider does:

    >>> from math import pi
    >>> ratio = velocity_ratio("slider-crank").function("open")
    >>> round(float(ratio(crank=0.1, rod=0.4, offset=0.0, crank_angle=pi / 2).slider_ratio), 12)
    -0.1
    """
    if kind not in _KINDS:
        raise ValueError(f"there is a velocity ratio for {', '.join(_KINDS)}; not for {kind!r}")
    return _KINDS[kind]()


def _four_bar():
    coupler, rocker = sp.symbols("omega_coupler omega_rocker", real=True)
    speeds = {bars.theta: CRANK_SPEED, bars.phi: coupler, bars.psi: rocker}
    views = (
        _View("rocker_ratio", rocker, -bars.phi, "coupler", "the coupler's turning drops out"),
        _View("coupler_ratio", coupler, -bars.psi, "rocker", "the rocker's turning drops out"),
    )
    return _derived("four-bar", bars.four_bar(), bars.LOOP, speeds, views)


def _slider_crank():
    rod, slide = sp.symbols("omega_rod v_slider", real=True)
    speeds = {sliders.theta: CRANK_SPEED, sliders.phi: rod, sliders.x: slide}
    views = (
        _View("slider_ratio", slide, -sliders.phi, "rod", "the rod's turning drops out"),
        _View("rod_ratio", rod, sp.pi / 2, "normal to the slide", "the slider's speed drops out"),
    )
    return _derived("slider-crank", sliders.slider_crank(), sliders.SLIDER_LOOP, speeds, views)


def _inverted():
    lever, slide = sp.symbols("omega_lever v_block", real=True)
    speeds = {sliders.theta: CRANK_SPEED, sliders.psi: lever, sliders.x: slide}
    views = (
        _View("lever_ratio", lever, sp.pi / 2 - sliders.psi, "normal to the lever", "the sliding drops out"),
        _View("block_ratio", slide, -sliders.psi, "lever", "the sliding is left, and the offset's share"),
    )
    position = sliders.inverted_slider_crank()
    return _derived("inverted slider-crank", position, sliders.LEVER_LOOP, speeds, views)


_KINDS = {"four-bar": _four_bar, "slider-crank": _slider_crank, "inverted slider-crank": _inverted}


_MEANING = {
    "rocker_ratio": "angular velocity of the rocker",
    "coupler_ratio": "angular velocity of the coupler",
    "slider_ratio": "velocity of the slider along the slide",
    "rod_ratio": "angular velocity of the rod",
    "lever_ratio": "angular velocity of the lever",
    "block_ratio": "velocity of the block along the lever",
}


@dataclass(frozen=True)
class _View:
    """From where to look at the velocities so that one speed is found: all vectors turned by `turn`."""

    name: str
    speed: sp.Symbol
    turn: sp.Expr
    seat: str
    effect: str

    def equation(self, loop):
        turned = (sp.exp(sp.I * self.turn) * side for side in (loop.lhs, loop.rhs))
        return do.components(sp.Eq(*turned, evaluate=False))[0]

    def step(self, loop):
        text = f"Look along the {self.seat} (turn all vectors, take the real part): {self.effect}."
        return Step(text, self.equation(loop))


def _derived(kind, position, loop, speeds, views):
    velocities = _differentiated(loop, speeds)
    ratios = _ratios(velocities, views)
    steps = (
        Step("Begin with the loop equation.", loop),
        Step("Differentiate by time: lengths stay, each variable brings its own speed.", velocities),
        *(view.step(velocities) for view in views),
        Step(
            "Solve for the speeds and divide by the crank's. Where a divisor comes to nothing the crank itself "
            "is at a limit position: the loop stops it there, and the ratios have no finite value.",
            sp.Tuple(*(sp.Eq(view.speed / CRANK_SPEED, ratios[view.name]) for view in views)),
        ),
    )
    speeds_sought = (Quantity(str(view.speed), view.speed, _MEANING[view.name]) for view in views)
    symbols = (*position.symbols, CRANK, *speeds_sought)
    order = _every_variable(position)
    pose = partial(_moving_pose, position, velocities, [view.speed for view in views])
    return Derivation(f"Velocity ratios of the {kind}", symbols, steps, order, ratios, pose).checked()


def _differentiated(loop, speeds):
    """The time derivative of a loop equation by the chain rule."""
    sides = (sum(sp.diff(side, variable) * speed for variable, speed in speeds.items()) for side in loop.args)
    return sp.Eq(*sides)


def _ratios(velocities, views):
    """Ratio of each wanted speed to the crank's, each from its own view and those found before."""
    found = {}
    for view in views:
        equation = view.equation(velocities).subs(found)
        found[view.speed] = sp.factor(sp.solve(equation, view.speed)[0])
    return {view.name: found[view.speed] / CRANK_SPEED for view in views}


def _every_variable(position):
    """The abbreviations of a position derivation, and each of its results under its own letter."""
    letters = {quantity.name: quantity.symbol for quantity in position.symbols}
    known = [symbol for symbol, _ in position.definitions]
    found = ((letters[name], value) for name, value in position.results.items())
    return (*position.definitions, *((letter, value) for letter, value in found if letter not in known))


def _moving_pose(position, velocities, unknown, draw):
    """A closed pose with a crank speed drawn and the others from the components of the velocity equation."""
    pose = {**position.pose(draw), CRANK_SPEED: rational(draw)}
    parts = [exact(part.lhs - part.rhs) for part in (e.subs(pose) for e in do.components(velocities))]
    return {**pose, **sp.solve(parts, unknown)}
