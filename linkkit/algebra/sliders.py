"""The slider-crank and its inversion with the block on a pinned lever."""

from functools import cache

import sympy as sp

from linkkit.algebra import manoeuvres as do
from linkkit.algebra.derivation import SIGN, Derivation, Quantity, Step
from linkkit.algebra.poses import direction, exact, rational, sign

g, a, b = sp.symbols("g a b", positive=True)
e, x = sp.symbols("e x", real=True)
theta, phi, psi = sp.symbols("theta phi psi", real=True)
CRANK = (
    Quantity("crank", a, "length of the crank, O to A"),
    Quantity("crank_angle", theta, "direction of the crank, O to A, anticlockwise from the x axis"),
)
SLIDER_SYMBOLS = (
    *CRANK,
    Quantity("rod", b, "length of the rod, A to B"),
    Quantity("offset", e, "height of the slide, parallel to the x axis, above O"),
    Quantity("slider_position", x, "place of the slider pin B along the slide, from the foot of O"),
    Quantity("rod_angle", phi, "direction of the rod, A to B"),
)
LEVER_SYMBOLS = (
    *CRANK,
    Quantity("ground", g, "length of the fixed link, from O along the x axis to the lever's pivot Q"),
    Quantity("offset", e, "distance from Q to the slide line, positive left of the lever's direction"),
    Quantity("lever_angle", psi, "direction of the slide line on the lever"),
    Quantity("block_position", x, "place of the block pin A along the lever, from the foot of Q"),
)
SLIDER_LOOP = sp.Eq(do.turned(a, theta) + do.turned(b, phi), x + sp.I * e)
LEVER_LOOP = sp.Eq(do.turned(a, theta), g + do.turned(x + sp.I * e, psi))


@cache
def slider_crank():
    """Position equations of the offset slider-crank, on both circuits.

    Returns
    -------
    Derivation
        Results ``slider_position`` (metres) and ``rod_angle`` (radians) from ``crank``, ``rod``,
        ``offset`` (metres) and ``crank_angle`` (radians). On the open circuit the slider lies on the +x
        side of the crank pin.

    Examples
    --------
    A rod of 5 from a crank pin at x = 1 up to a slide at 3 reaches 4 further along:

    >>> place = slider_crank().function("open")
    >>> round(float(place(crank=1, rod=5, offset=3, crank_angle=0).slider_position), 12)
    5.0
    """
    across, up, squared = _slider_elimination()
    quadratic = sp.Eq(sp.collect(sp.expand(squared.rhs - squared.lhs), x), 0)
    position = _slider_root(quadratic)
    rod_angle = sp.atan2(up.rhs, across.rhs)
    steps = (
        Step("Go from O to B both ways: by crank and rod, and along and up to the slide.", SLIDER_LOOP),
        Step("Separate the x and the y components.", sp.Tuple(*do.components(SLIDER_LOOP))),
        Step("Leave the rod alone on one side, to get rid of its angle.", sp.Tuple(across, up)),
        Step("Square both and add. As $\\cos^2 + \\sin^2 = 1$, the rod angle drops out.", squared),
        Step("Arrange by powers of $x$: a quadratic, whose constant part holds the lengths.", quadratic),
        Step(
            r"Solve it and keep both roots. The rod reaches to the $+x$ side of the crank pin with $\sigma = +1$ "
            r"(open circuit), to the $-x$ side with $\sigma = -1$ (crossed). Where the root is not real the rod "
            "is too short to reach the slide.",
            sp.Eq(x, position),
        ),
        Step("With the slider known, the isolated components give the rod.", sp.Eq(phi, rod_angle)),
    )
    results = {"slider_position": position, "rod_angle": rod_angle}
    title = "Position of the slider-crank"
    return Derivation(title, SLIDER_SYMBOLS, steps, ((x, position),), results, _slider_pose).checked()


def _slider_elimination():
    real, imaginary = do.components(SLIDER_LOOP)
    across = do.isolate(real, b * sp.cos(phi))
    up = do.isolate(imaginary, b * sp.sin(phi))
    return across, up, do.square_and_add(across, up, (theta, phi))


def _slider_root(quadratic):
    """Both roots in x as one expression, the radicand as the square of the rod less that of its rise."""
    square, linear, constant = sp.Poly(quadratic.lhs, x).all_coeffs()
    radicand = b**2 - (e - a * sp.sin(theta)) ** 2
    if sp.simplify(sp.expand((linear / 2) ** 2 - square * constant - radicand)) != 0:
        raise ArithmeticError(f"the discriminant of {quadratic} is not {radicand}")
    return (-linear / 2 + SIGN * sp.sqrt(radicand)) / square


def _slider_pose(draw):
    """Two directions and both lengths drawn; slider and offset follow from the components."""
    pose = {theta: direction(draw), phi: direction(draw), a: rational(draw), b: rational(draw)}
    real, imaginary = (exact(equation.lhs.subs(pose)) for equation in do.components(SLIDER_LOOP))
    return {**pose, x: real, e: imaginary, SIGN: sign(exact(sp.cos(pose[phi])))}


@cache
def inverted_slider_crank():
    """Position equations of the inverted slider-crank: a block on the crank pin slides on a pinned lever.

    Returns
    -------
    Derivation
        Results ``lever_angle`` (radians; the block turns with the lever, so it is the coupler angle
        too) and ``block_position`` (metres) from ``crank``, ``crank_angle``, ``ground`` and ``offset``.
        On the open circuit the block is ahead of the foot of Q in the lever's direction.

    Examples
    --------
    A crank of 3 at right angles to a fixed link of 4 stands 5 from the lever's pivot:

    >>> from math import pi
    >>> place = inverted_slider_crank().function("open")
    >>> round(float(place(crank=3, ground=4, offset=0, crank_angle=pi / 2).block_position), 12)
    5.0
    """
    along, across = _seen_from_lever()
    definitions = do.coefficients(across.lhs - across.rhs, psi)
    half_angle, lever_angle = do.half_angle_steps(psi, "lever angle")
    linear = sp.Eq(do.U * sp.cos(psi) + do.V * sp.sin(psi) + do.W, 0)
    named = [sp.Eq(symbol, value) for symbol, value in definitions[:3]]
    steps = (
        Step("Go from O to A both ways: along the crank, and by Q, the lever and its offset.", LEVER_LOOP),
        Step(
            "Look at it from the lever: turn everything back by the lever angle and separate the components "
            "along the slide and across it.",
            sp.Tuple(along, across),
        ),
        Step("The second has no $x$ in it: collect cosine and sine.", sp.Tuple(linear, *named)),
        *half_angle,
        Step(
            r"Which circuit is which: with that angle the component along the slide becomes $\sigma s$, so "
            "on the open circuit the block is ahead of the foot of Q, on the crossed circuit behind it.",
            sp.Eq(x, SIGN * do.S),
        ),
    )
    results = {"lever_angle": lever_angle, "block_position": SIGN * do.S}
    title = "Position of the inverted slider-crank"
    return Derivation(title, LEVER_SYMBOLS, steps, definitions, results, _lever_pose).checked()


def _seen_from_lever():
    """Components of Q to A along the slide and across it."""
    from_pivot = do.turned(a, theta) - g
    seen = (sp.exp(-sp.I * psi) * from_pivot).expand(complex=True)
    return sp.Eq(sp.expand(sp.re(seen)), x), sp.Eq(sp.expand(sp.im(seen)), e)


def _lever_pose(draw):
    """Two directions, crank and fixed link drawn; block and offset follow."""
    pose = {theta: direction(draw), psi: direction(draw), a: rational(draw), g: rational(draw)}
    along, across = (exact(equation.lhs.subs(pose)) for equation in _seen_from_lever())
    return {**pose, x: along, e: across, SIGN: sign(along), do.T: sp.tan(pose[psi] / 2)}
