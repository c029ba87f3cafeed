"""A derivation kept as an object: sentences and equations to read, show, check and run."""

import inspect
import random
import re
from collections import namedtuple
from collections.abc import Callable
from dataclasses import dataclass, field

import mpmath
import numpy as np
import sympy as sp

#: +1 on the open circuit, -1 on the crossed one: the sign of the square root in every position equation.
SIGN = sp.Symbol("sigma", real=True)
CIRCUITS = {"open": 1, "crossed": -1}
_DIGITS = 60  # working precision of a check; a step is true if it leaves less than 10**-40


@dataclass(frozen=True)
class Quantity:
    """One letter of a derivation: the plain name it has as an argument, its symbol and what it means."""

    name: str
    symbol: sp.Symbol
    meaning: str


@dataclass(frozen=True)
class Step:
    """One step of a derivation.

    Parameters
    ----------
    told : str
        What was done, and why, in a sentence; letters and formulas in it are TeX between dollar signs.
    equation : sympy.Eq or sympy.Tuple of sympy.Eq
        What the step arrived at.
    """

    told: str
    equation: sp.Basic

    @property
    def text(self):
        """The sentence as plain text."""
        return re.sub(r"\$([^$]*)\$", lambda maths: _plain(maths[1]), self.told)

    @property
    def equations(self):
        """The step's equations as a tuple, also when there is only one."""
        return tuple(self.equation) if isinstance(self.equation, sp.Tuple) else (self.equation,)

    def __str__(self):
        return "\n".join([self.text, *(f"    {sp.sstr(e.lhs)} = {sp.sstr(e.rhs)}" for e in self.equations)])

    def _repr_latex_(self):
        lines = (rf"{sp.latex(e.lhs)} &= {sp.latex(e.rhs)}" for e in self.equations)
        return "$$\\begin{aligned}\n" + " \\\\\n".join(lines) + "\n\\end{aligned}$$"

    def _repr_markdown_(self):
        return f"{self.told}\n\n{self._repr_latex_()}"


def _plain(tex):
    for code, letter in ((r"\sigma", "σ"), (r"\cos", "cos"), (r"\sin", "sin"), ("^2", "²"), ("-", "−")):
        tex = tex.replace(code, letter)
    return tex


@dataclass(frozen=True)
class Derivation:
    """A chain of steps from a loop equation to a formula, with the formula ready to run.

    Parameters
    ----------
    title : str
    symbols : tuple of Quantity
        Every letter that is given or found; the given ones are the arguments of `function`.
    steps : tuple of Step
    definitions : tuple of (sympy.Symbol, sympy.Expr)
        Abbreviations, each written with the letters and with the abbreviations before it.
    results : dict of str to sympy.Expr
        What `function` returns, by name; the letter sigma is the circuit.
    pose : callable
        ``pose(random) -> {symbol: exact value}``: an exact closed pose for `residuals`, drawn from a
        `random.Random`.
    """

    title: str
    symbols: tuple[Quantity, ...]
    steps: tuple[Step, ...]
    definitions: tuple[tuple[sp.Symbol, sp.Expr], ...] = ()
    results: dict[str, sp.Expr] = field(default_factory=dict)
    pose: Callable | None = None

    def __str__(self):
        letters = [f"    {q.symbol}: {q.meaning}" for q in self.symbols]
        steps = [f"{number}. {step}" for number, step in enumerate(self.steps, 1)]
        return "\n".join([self.title, *letters, "", *steps])

    def _repr_markdown_(self):
        letters = [f"- ${sp.latex(q.symbol)}$: {q.meaning}" for q in self.symbols]
        steps = [f"**{number}.** {step._repr_markdown_()}" for number, step in enumerate(self.steps, 1)]
        return "\n\n".join([f"### {self.title}", "\n".join(letters), *steps])

    def formula(self, name, circuit="open"):
        """The expression of one result on one circuit, in the given letters alone.

        Parameters
        ----------
        name : str
            A key of `results`.
        circuit : {"open", "crossed"}

        Returns
        -------
        sympy.Expr
            Angles in radians, lengths in metres.
        """
        if circuit not in CIRCUITS:
            raise ValueError(f'the circuit is "open" or "crossed", not {circuit!r}')
        expression = self.results[name]
        for symbol, value in reversed(self.definitions):
            expression = expression.subs(symbol, value)
        return expression.subs(SIGN, CIRCUITS[circuit])

    def function(self, circuit="open"):
        """The results as a numpy function.

        Parameters
        ----------
        circuit : {"open", "crossed"}

        Returns
        -------
        callable
            Takes the given letters by their plain names (metres, radians), numbers or arrays that
            broadcast; returns a named tuple of arrays of that shape. Angles lie in (-pi, pi]; where
            the linkage cannot be assembled the values are nan.

        Examples
        --------
        >>> import numpy as np
        >>> from linkkit import algebra
        >>> place = algebra.slider_crank().function("open")
        >>> found = place(crank=0.3, rod=0.5, offset=0.0, crank_angle=np.pi / 2)
        >>> round(float(found.slider_position), 12)
        0.4
        """
        formulas = {name: self.formula(name, circuit) for name in self.results}
        used = set().union(*(formula.free_symbols for formula in formulas.values()))
        given = [quantity for quantity in self.symbols if quantity.symbol in used]
        raw = sp.lambdify([q.symbol for q in given], list(formulas.values()), modules="numpy", cse=True)
        return _by_name(raw, given, namedtuple("Values", formulas))

    def residuals(self, *, samples=4, seed=1):
        """How far each step is from being true at exact poses of a closed loop.

        Each pose has rational lengths and rational cosines and sines, so the loop closes exactly; every
        equation is evaluated there with 60 digits. Angles are compared modulo a turn.

        Parameters
        ----------
        samples, seed : int
            Number of poses, and the seed they are drawn with.

        Returns
        -------
        list of float
            One a step: the largest absolute difference of left and right side, zero but for rounding.
        """
        draw = random.Random(seed)
        poses = [self._with_definitions(self.pose(draw)) for _ in range(samples)]
        return [max(_difference(e, pose) for e in step.equations for pose in poses) for step in self.steps]

    def checked(self):
        """This derivation, after every step has passed `residuals`; ArithmeticError names a false one."""
        for number, (step, residual) in enumerate(zip(self.steps, self.residuals(), strict=True), 1):
            if not residual < 1e-40:
                raise ArithmeticError(f"step {number} of '{self.title}' is off by {residual:.3g}: {step}")
        return self

    def _with_definitions(self, pose):
        """The pose with the values of the abbreviations added; what the pose already fixes is kept."""
        for symbol, value in self.definitions:
            pose = {symbol: value.subs(pose), **pose}
        return pose


def _difference(equation, pose):
    """Left less right side at a pose, as a plain number; a turn more or less is no difference."""
    difference = equation.lhs - equation.rhs
    if equation.rhs.has(sp.atan2):
        difference = sp.exp(sp.I * difference) - 1
    with mpmath.workdps(_DIGITS):
        numbers = [mpmath.mpmathify(sp.N(value, _DIGITS)) for value in pose.values()]
        return float(abs(sp.lambdify(list(pose), difference, "mpmath")(*numbers)))


def _by_name(raw, given, result):
    """Wrap a positional numpy function so that it takes keywords and returns a named tuple."""
    keyword = inspect.Parameter.KEYWORD_ONLY
    signature = inspect.Signature([inspect.Parameter(q.name, keyword) for q in given])

    def values(**quantities):
        bound = signature.bind(**quantities).arguments  # TypeError names what is missing or unknown
        arrays = [np.asarray(bound[q.name], dtype=float) for q in given]
        with np.errstate(invalid="ignore"):  # the root of a negative number: not assembled, so nan
            return result(*np.broadcast_arrays(*raw(*arrays)))

    values.__signature__ = signature
    values.__doc__ = "\n".join(f"{q.name}: {q.meaning}" for q in given)
    return values
