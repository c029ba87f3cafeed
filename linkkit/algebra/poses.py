"""Exact closed poses, with rational lengths, cosines and sines, at which a derivation is checked."""

import sympy as sp


def rational(draw, low=1, high=40):
    """A positive rational number from a `random.Random`."""
    return sp.Rational(draw.randint(low, high), draw.randint(3, 12))


def direction(draw):
    """An angle whose half-angle tangent, and so its cosine and sine, are rational."""
    half = sp.Rational(draw.randint(1, 20), draw.randint(1, 20))
    return 2 * sp.atan(draw.choice((-1, 1)) * half)


def exact(expression):
    """The rational value of a polynomial in cosines and sines of such angles."""
    return sp.expand(sp.expand_trig(expression))


def sign(expression):
    """+1 or -1 as a sympy number."""
    return sp.Integer(1) if expression > 0 else sp.Integer(-1)
