"""The four-bar: position equations, Freudenstein's equation and the velocity ratio."""

from functools import cache

import sympy as sp

from linkkit.algebra import manoeuvres as do
from linkkit.algebra.derivation import SIGN, Derivation, Quantity, Step
from linkkit.algebra.poses import direction, exact, rational, sign

g, a, b, c = sp.symbols("g a b c", positive=True)
theta, phi, psi = sp.symbols("theta phi psi", real=True)
SYMBOLS = (
    Quantity("ground", g, "length of the fixed link, from O along the x axis to Q"),
    Quantity("crank", a, "length of the crank, O to A"),
    Quantity("coupler", b, "length of the coupler, A to B"),
    Quantity("rocker", c, "length of the rocker, Q to B"),
    Quantity("crank_angle", theta, "direction of the crank, O to A, anticlockwise from the x axis"),
    Quantity("coupler_angle", phi, "direction of the coupler, A to B"),
    Quantity("rocker_angle", psi, "direction of the rocker, Q to B"),
)
LOOP = sp.Eq(do.turned(a, theta) + do.turned(b, phi), g + do.turned(c, psi))


@cache
def four_bar():
    """Position equations of the four-bar, from its loop equation to both circuits.

    Returns
    -------
    Derivation
        Results ``rocker_angle`` and ``coupler_angle`` (radians) from ``ground``, ``crank``, ``coupler``,
        ``rocker`` (metres) and ``crank_angle`` (radians). On the open circuit the rocker joint B lies
        to the left of the ray from the crank pin A to the rocker pivot Q.

    Notes
    -----
    The method is that of the loop equation with half-angle tangents, as in R. L. Norton, Design of
    Machinery, chapter 4.

    Examples
    --------
    In a parallelogram the rocker keeps the direction of the crank:

    >>> from linkkit import algebra
    >>> place = algebra.four_bar().function("open")
    >>> round(float(place(ground=5, crank=3, coupler=5, rocker=3, crank_angle=1.2).rocker_angle), 12)
    1.2
    """
    across, up, squared = _elimination()
    definitions = do.coefficients(squared.rhs - squared.lhs, psi)
    half_angle, rocker_angle = do.half_angle_steps(psi, "rocker angle")
    coupler_angle = sp.atan2(up.rhs, across.rhs)
    steps = [
        *_steps_to_squared(),
        _collected(definitions),
        *half_angle,
        _which_circuit(),
        Step("With the rocker known, the isolated components give the coupler.", sp.Eq(phi, coupler_angle)),
    ]
    results = {"rocker_angle": rocker_angle, "coupler_angle": coupler_angle}
    order = (*definitions, (psi, rocker_angle))
    return Derivation("Position of the four-bar", SYMBOLS, tuple(steps), order, results, _pose).checked()


def _elimination():
    """The components isolated for the coupler, and their squares added."""
    real, imaginary = do.components(LOOP)
    across = do.isolate(real, b * sp.cos(phi))
    up = do.isolate(imaginary, b * sp.sin(phi))
    return across, up, do.square_and_add(across, up, (theta, phi, psi))


def _steps_to_squared():
    across, up, squared = _elimination()
    return [
        Step("Go from O to B both ways round the loop: crank and coupler, fixed link and rocker.", LOOP),
        Step("Separate the x and the y components.", sp.Tuple(*do.components(LOOP))),
        Step("Leave the coupler alone on one side, to get rid of its angle.", sp.Tuple(across, up)),
        Step("Square both and add. As $\\cos^2 + \\sin^2 = 1$, the coupler angle drops out.", squared),
    ]


def _collected(definitions):
    linear = sp.Eq(do.U * sp.cos(psi) + do.V * sp.sin(psi) + do.W, 0)
    named = (sp.Eq(symbol, value) for symbol, value in definitions[:3])
    text = "Collect what stands with the cosine and the sine of the rocker angle."
    return Step(text, sp.Tuple(linear, *named))


def _which_circuit():
    to_pivot = g - do.turned(a, theta)
    to_joint = do.turned(c, psi)
    left = sp.expand(sp.im((sp.conjugate(to_pivot) * to_joint).expand(complex=True)))
    return Step(
        r"Which circuit is which: the vector product of A to Q with Q to B has the sign of $\sigma$, so on the "
        "open circuit B lies to the left of the ray from A to Q, on the crossed circuit to its right.",
        sp.Eq(left, SIGN * do.S / 2),
    )


def _pose(draw):
    """Three directions and two lengths drawn; the two others follow from the components."""
    while True:
        angles = {theta: direction(draw), phi: direction(draw), psi: direction(draw)}
        lengths = {a: rational(draw), b: rational(draw)}
        found = _closing_lengths({**angles, **lengths})
        if min(found.values()) > 0:
            break
    pose = {**angles, **lengths, **found}
    left = exact(_which_circuit().equation.lhs.subs(pose))
    return {**pose, SIGN: sign(left), do.T: sp.tan(pose[psi] / 2)}


def _closing_lengths(pose):
    """The rocker from the y components, the fixed link from the x components."""
    rocker = exact((a * sp.sin(theta) + b * sp.sin(phi)).subs(pose)) / exact(sp.sin(pose[psi]))
    ground = exact((a * sp.cos(theta) + b * sp.cos(phi) - rocker * sp.cos(psi)).subs(pose))
    return {c: rocker, g: ground}


@cache
def freudenstein():
    """Freudenstein's equation of the four-bar, and the link lengths that belong to its three ratios.

    Returns
    -------
    Derivation
        Results ``k1``, ``k2`` and ``k3`` (no unit) from ``ground``, ``crank``, ``coupler`` and
        ``rocker``; the last step turns the ratios back into lengths.

    Notes
    -----
    F. Freudenstein, Approximate synthesis of four-bar linkages, Transactions of the ASME 77 (1955)
    853-861. The rocker angle is the direction from Q to B.

    Examples
    --------
    >>> ratios = freudenstein().function()(ground=4, crank=1, coupler=3, rocker=2)
    >>> [float(k) for k in ratios]
    [4.0, 2.0, 3.0]
    """
    k1, k2, k3 = ratios = sp.symbols("K_1 K_2 K_3", real=True)
    squared = _elimination()[2]
    values = (g / a, g / c, (a**2 - b**2 + c**2 + g**2) / (2 * a * c))
    compact = sp.Eq(k1 * sp.cos(psi) - k2 * sp.cos(theta) + k3, sp.cos(theta - psi))
    _refuse_if_not_proportional(compact.subs(dict(zip(ratios, values, strict=True))), squared)
    named = tuple(zip(ratios, values, strict=True))
    steps = [
        *_steps_to_squared(),
        Step(
            "Divide by twice the product of crank and rocker. The two products of cosines and sines are the "
            "cosine of the difference; the lengths stand only in three ratios.",
            sp.Tuple(compact, *(sp.Eq(symbol, value) for symbol, value in named)),
        ),
        Step(
            "The equation is linear in the three ratios: three pairs of crank and rocker angle fix them, and "
            "the ratios with one length fix the linkage. A negative length turns that link by half a turn.",
            sp.Tuple(*_lengths_from_ratios(*ratios)),
        ),
    ]
    results = {"k1": k1, "k2": k2, "k3": k3}
    return Derivation("Freudenstein's equation", SYMBOLS, tuple(steps), named, results, _pose).checked()


def _lengths_from_ratios(k1, k2, k3):
    coupler = sp.sqrt(a**2 + c**2 + g**2 - 2 * a * c * k3)
    return sp.Eq(a, g / k1), sp.Eq(c, g / k2), sp.Eq(b, coupler)


def _refuse_if_not_proportional(compact, squared):
    difference = 2 * a * c * (compact.lhs - sp.expand_trig(compact.rhs)) - (squared.rhs - squared.lhs)
    if sp.expand(difference) != 0:
        raise ArithmeticError(f"Freudenstein's equation is off by {difference}")
