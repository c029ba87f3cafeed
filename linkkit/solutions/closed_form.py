"""A four-link chain of a machine put into its closed form: this chain's lengths and angles, letter by letter.

The closed forms of `linkkit.algebra` have their fixed link (or the slide) along the x axis. A chain lies anywhere in
the machine and may be seen from a link that moves itself: so its pins are turned back by the direction of that link.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np

from ..chains import Chain


@dataclass(frozen=True)
class Placed:
    """A chain at one position.

    `given` are the quantities of its closed form by their plain names (metres, radians), `between` says where they lie in
    the machine, `frame` the direction of the
    x axis of that form in the machine (radians), `sigma` +1 on the open circuit and -1 on the crossed one; `formula`
    names the closed form, `output` the quantity that the next chain takes over, `solver` that quantity as the solver
    has it.
    """

    formula: str
    given: dict[str, float]
    between: dict[str, str]
    frame: float
    sigma: int
    output: str
    solver: float

    @property
    def values(self) -> dict[str, float]:
        """Abbreviations and results of the closed form, by their letters (metres, radians)."""
        return _evaluate(self.formula)(**self.given, sigma=self.sigma)

    @property
    def off(self) -> float:
        """How far formula and solver are apart (metres or radians)."""
        gap = self.values[letter(self.formula, self.output)] - self.solver
        return float(abs(np.angle(np.exp(1j * gap)))) if self.output.endswith("angle") else abs(float(gap))


def placed(chain: Chain, motion) -> Placed | None:
    """The chain at the motion's first position; None where it has no closed form here, or is not assembled."""
    make = FORMS.get(chain.kind)
    names = chain.pairs
    sliding = tuple(name not in motion.linkage.points for name in names)
    if make is None or sliding != make[0]:
        return None
    found = make[1](motion, names)
    return found if np.isfinite(list(found.given.values())).all() else None


def _at(motion, point) -> complex:
    return complex(np.ravel(motion.point(point))[0])


def _line(motion, name) -> tuple[complex, complex]:
    """A point of a slide's line and its direction, as they lie at the position."""
    slide = motion.linkage.slide(name)
    through = np.ravel(motion.place(slide.on, complex(slide.through)))[0]
    return complex(through), complex(np.ravel(motion.rotation(slide.on))[0] * slide.direction)


def _four_bar(motion, names) -> Placed:
    o, a, b, q = (_at(motion, name) for name in names)
    axis = (q - o) / abs(q - o)
    given = {"ground": abs(q - o), "crank": abs(a - o), "coupler": abs(b - a), "rocker": abs(b - q),
             "crank_angle": _direction((a - o) / axis)}  # fmt: skip
    ends = _named(names, ground=(0, 3), crank=(0, 1), coupler=(1, 2), rocker=(3, 2))
    sigma = 1 if (np.conj(q - a) * (b - q)).imag > 0 else -1
    return Placed("four_bar", given, ends, _direction(axis), sigma, "rocker_angle", _direction((b - q) / axis))


def _slider_crank(motion, names) -> Placed:
    o, a, b = (_at(motion, name) for name in names[:3])
    through, axis = _line(motion, names[3])
    given = {"crank": abs(a - o), "rod": abs(b - a), "offset": ((through - o) / axis).imag,
             "crank_angle": _direction((a - o) / axis)}  # fmt: skip
    ends = _named(names, crank=(0, 1), rod=(1, 2), offset=(0, 3))
    sigma, along = 1 if ((b - a) / axis).real > 0 else -1, float(((b - o) / axis).real)
    return Placed("slider_crank", given, ends, _direction(axis), sigma, "slider_position", along)


def _inverted(motion, names) -> Placed:
    o, a, q = (_at(motion, names[k]) for k in (0, 1, 3))
    axis, (_, way) = (q - o) / abs(q - o), _line(motion, names[2])
    seen = (a - q) / way
    way, seen = (way, seen) if seen.real > 0 else (-way, -seen)  # the slide's line has two ends: take the block's
    given = {"crank": abs(a - o), "ground": abs(q - o), "offset": seen.imag, "crank_angle": _direction((a - o) / axis)}
    ends = _named(names, crank=(0, 1), ground=(0, 3), offset=(3, 2))
    return Placed("inverted_slider_crank", given, ends, _direction(axis), 1, "lever_angle", _direction(way / axis))


def _named(names, **ends) -> dict[str, str]:
    """Between which pins and slides of the machine each length lies; the angle is that of the crank."""
    between = {quantity: f"{names[k]} to {names[m]}" for quantity, (k, m) in ends.items()}
    return between | {"crank_angle": f"{names[0]} to {names[1]}"}


FORMS = {  # kind: (which of its pairs slide, the quantities)
    "four-bar": ((False, False, False, False), _four_bar),
    "slider-crank": ((False, False, False, True), _slider_crank),
    "inverted slider-crank": ((False, False, True, False), _inverted),
}


def _direction(z) -> float:
    return float(np.angle(z))


@cache
def derivation(formula: str):
    """The closed form with its steps, derived once a process."""
    from .. import algebra

    return getattr(algebra, formula)()


@cache
def letter(formula: str, name: str) -> str:
    """The letter of a quantity, as sympy writes it."""
    return next(str(q.symbol) for q in derivation(formula).symbols if q.name == name)


@cache
def _evaluate(formula: str):
    """Abbreviations and results as one function of the given quantities and sigma."""
    import sympy as sp

    from ..algebra.derivation import SIGN

    about = derivation(formula)
    known = dict(about.definitions) | {sp.Symbol(letter(formula, n)): x for n, x in about.results.items()}
    order, full = [], {}
    for symbol, value in known.items():
        for done in reversed(order):
            value = value.subs({s: full[s] for s in full if str(s) == str(done)})
        order.append(symbol)
        full[symbol] = value
    given = [q for q in about.symbols if any(v.has(q.symbol) for v in full.values())]
    raw = sp.lambdify([*(q.symbol for q in given), SIGN], list(full.values()), modules="math", cse=True)
    names = [str(symbol) for symbol in full]
    return lambda sigma, **quantities: dict(zip(names, raw(*(quantities[q.name] for q in given), sigma), strict=True))
