"""The moves that the derivations share: components, elimination by squaring, the half-angle tangent."""

import sympy as sp

from linkkit.algebra.derivation import SIGN, Step

#: Abbreviations of U cos + V sin + W = 0 and of the root s in its solution; t is the half-angle tangent.
U, V, W = sp.symbols("U V W", real=True)
S = sp.Symbol("s", nonnegative=True)
T = sp.Symbol("t", real=True)


def turned(length, angle):
    """The vector of that length and direction as a complex exponential."""
    return length * sp.exp(sp.I * angle)


def components(loop):
    """The x and y parts of a complex equation."""
    left, right = (_parts(side) for side in (loop.lhs, loop.rhs))
    return sp.Eq(left[0], right[0]), sp.Eq(left[1], right[1])


def _parts(expression):
    """Real and imaginary part, with the exponentials as cosine and sine of their whole exponents."""
    return sp.expand(sp.powsimp(sp.expand(expression)).rewrite(sp.cos)).as_real_imag()


def isolate(equation, term):
    """The equation solved for a product that occurs in it linearly, such as b cos(phi)."""
    stand_in = sp.Dummy()
    return sp.Eq(term, sp.solve(equation.subs(term, stand_in), stand_in)[0])


def square_and_add(first, second, angles):
    """Squares of two equations added, with sin^2 + cos^2 = 1 used for each of the angles."""
    sides = [first.lhs**2 + second.lhs**2, first.rhs**2 + second.rhs**2]
    return sp.Eq(*(_without_squared_sines(side, angles) for side in sides))


def _without_squared_sines(expression, angles):
    expression = sp.expand(expression)
    for angle in angles:
        expression = sp.expand(expression.subs(sp.sin(angle) ** 2, 1 - sp.cos(angle) ** 2))
    return expression


def coefficients(expression, angle):
    """The definitions of U, V and W for which the expression is U cos(angle) + V sin(angle) + W."""
    cosine, sine = sp.cos(angle), sp.sin(angle)
    parts = sp.collect(sp.expand(expression), [cosine, sine], evaluate=False)
    return (
        (U, sp.factor(parts[cosine])),
        (V, sp.factor(parts[sine])),
        (W, parts[sp.S.One]),
        (S, sp.sqrt(U**2 + V**2 - W**2)),
    )


def half_angle_steps(angle, name):
    """Steps that solve U cos + V sin + W = 0 for the angle by the half-angle tangent; both roots are kept.

    Returns
    -------
    list of Step
    sympy.Expr
        The angle, written with U, V, W, s and sigma.
    """
    quadratic = _half_angle_quadratic(angle)
    cosine, sine = _cosine_and_sine(angle)
    scale = U**2 + V**2
    solution = sp.atan2(*(sp.expand(sp.cancel(part * scale)) for part in (sine, cosine)))
    steps = [
        Step(
            f"Put $t$ for the tangent of half the {name}: cosine and sine become fractions in $t$, and the "
            "equation, multiplied by $-(1 + t^2)$, becomes a quadratic.",
            quadratic,
        ),
        Step(
            r"Solve the quadratic. Both roots are kept, because both are real assemblies: $\sigma = +1$ is the "
            r"open circuit, $\sigma = -1$ the crossed one. Where the root $s$ is not real the loop cannot close.",
            sp.Tuple(sp.Eq(T, _both_roots(quadratic)), sp.Eq(S, sp.sqrt(U**2 + V**2 - W**2))),
        ),
        Step(
            "Go back from the half-angle tangent to cosine and sine. This form keeps all its digits also "
            f"where $W$ comes close to $U$: there the {name} is near half a turn and $t$ grows without bound.",
            sp.Tuple(sp.Eq(sp.cos(angle), cosine), sp.Eq(sp.sin(angle), sine)),
        ),
        Step(
            f"Cosine and sine together fix the {name} in the whole circle; the common divisor is positive "
            "and can be left out.",
            sp.Eq(angle, solution),
        ),
    ]
    return steps, solution


def _half_angle_quadratic(angle):
    fractions = {sp.cos(angle): (1 - T**2) / (1 + T**2), sp.sin(angle): 2 * T / (1 + T**2)}
    equation = (U * sp.cos(angle) + V * sp.sin(angle) + W).subs(fractions)
    return sp.Eq(sp.collect(sp.expand(sp.cancel(-equation * (1 + T**2))), T), 0)


def _both_roots(quadratic):
    """Both roots of the quadratic in t as one expression with the sign sigma, held against sympy's own."""
    square, linear, constant = sp.Poly(quadratic.lhs, T).all_coeffs()
    discriminant = sp.expand((linear / 2) ** 2 - square * constant)
    root = (-linear / 2 + SIGN * S) / square
    expected = sp.solve(quadratic.lhs, T)
    ours = [root.subs({SIGN: sign, S: sp.sqrt(discriminant)}) for sign in (1, -1)]
    if any(all(sp.simplify(mine - theirs) != 0 for mine in ours) for theirs in expected):
        raise ArithmeticError(f"the roots {ours} are not those of {quadratic}")
    return root


def _cosine_and_sine(angle):
    """Cosine and sine from t.

    With R^2 = U^2 + V^2 the equation is a scalar product of (U, V) with the unit vector of the angle; the
    matching vector product is +-s, since their squares add up to R^2. Two linear equations are left.
    """
    cosine, sine = sp.symbols("cosine sine")
    found = sp.solve([U * cosine + V * sine + W, U * sine - V * cosine - SIGN * S], [cosine, sine])
    _same_as_half_angle(found[cosine], found[sine], angle)
    return sp.factor(found[cosine]), sp.factor(found[sine])


def _same_as_half_angle(cosine, sine, angle):
    """Refuse a cosine and sine whose half-angle tangent, sin / (1 + cos), is not the root t."""
    root = _both_roots(_half_angle_quadratic(angle))
    residual = sp.numer(sp.together(sine - root * (1 + cosine)))
    known = [SIGN**2 - 1, S**2 - (U**2 + V**2 - W**2)]
    residual = sp.reduced(residual, known, SIGN, S)[1]
    if residual != 0:
        raise ArithmeticError(f"cosine and sine do not agree with the half-angle root: {residual}")
