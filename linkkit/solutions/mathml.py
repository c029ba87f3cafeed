"""Equations as MathML: written once a process by sympy, and filled with a student's numbers as text.

Writing an equation takes sympy milliseconds, and putting numbers into finished MathML microseconds: so a letter is
written as itself once, and its tag is exchanged for a number in each page.
"""

from __future__ import annotations

import math
import re
from functools import cache
from html import unescape

from .closed_form import derivation

TWICE = re.compile(r"<mo>\(</mo><mrow><mo>\(</mo>(<mn>[^<]*</mn>)<mo>\)</mo></mrow><mo>\)</mo>")
PAIR = re.compile(r"(<mi>atan2</mi><mrow><mo>\(</mo>)(.*)<mo>,</mo>(.*)(<mo>\)</mo></mrow></mrow>)$")
# one component below the other: side by side they are wider than a page
STACKED = r"\1<mtable><mtr><mtd>\2<mo>,</mo></mtd></mtr><mtr><mtd>\3</mtd></mtr></mtable>\4"
LETTER = re.compile(r"<mi>([^<]+)</mi>")
GREEK = {"theta": "θ", "phi": "φ", "psi": "ψ", "sigma": "σ"}
ANGLES = ("θ", "φ", "ψ")
OURS = {"<mi>arctan</mi>": "<mi>atan2</mi>", "&InvisibleTimes;": "\u2062", "<mo>-</mo>": "<mo>−</mo>"}
DISPLAY = '<math display="block">{}</math>'


@cache
def steps(formula: str) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """The derivation of a closed form: a sentence and its equations for each step."""
    return tuple((step.text, tuple(map(_equation, step.equations))) for step in derivation(formula).steps)


@cache
def letters(formula: str) -> dict[str, tuple[str, str]]:
    """The letter and the meaning of each quantity, by its plain name."""
    return {q.name: (GREEK.get(str(q.symbol), str(q.symbol)), q.meaning) for q in derivation(formula).symbols}


@cache
def working(formula: str) -> tuple[tuple[str, str, str, str], ...]:
    """What has to be worked out, in order: the letter, its plain name if it has one, the formula, and the formula with
    product signs, ready for numbers."""
    about, names = derivation(formula), {str(q.symbol): q.name for q in derivation(formula).symbols}
    symbols = {q.name: q.symbol for q in about.symbols}
    todo = dict(about.definitions) | {symbols[name]: value for name, value in about.results.items()}
    return tuple((str(s), names.get(str(s), ""), _side(s, v), _side(s, v, "times")) for s, v in todo.items())


def _side(symbol, value, product=None) -> str:
    """One equation, the letter on the left."""
    from sympy import Eq

    return _written(Eq(symbol, value, evaluate=False), product)


def _equation(equation) -> str:
    return DISPLAY.format(_written(equation))


def _written(equation, product=None) -> str:
    """An equation as MathML, with the names that these pages use."""
    from sympy.printing.mathml import mathml

    text = mathml(equation, printer="presentation", mul_symbol=product)
    text = re.sub(r"&#\w+;", lambda found: unescape(found[0]), text)
    for sympys, ours in OURS.items():
        text = text.replace(sympys, ours)
    return text


def with_numbers(equation: str, numbers: dict[str, float], result: str) -> str:
    """The right side of an equation with numbers for its letters, and what it comes to."""
    side = equation.partition("<mo>=</mo>")[2].removesuffix("</mrow>")
    filled = LETTER.sub(lambda found: _number(found[1], numbers), side)
    filled = PAIR.sub(STACKED, filled)
    filled = TWICE.sub(r"<mo>(</mo>\1<mo>)</mo>", filled)
    return DISPLAY.format(f"<mrow><mo>=</mo>{filled}<mo>=</mo><mtext>{result}</mtext></mrow>")


def _number(name: str, numbers: dict[str, float]) -> str:
    if name not in numbers:
        return f"<mi>{name}</mi>"
    text = angle(numbers[name]) if name in ANGLES else figures(numbers[name])
    tag = f"<mn>{text}</mn>"
    return f"<mrow><mo>(</mo>{tag}<mo>)</mo></mrow>" if text.startswith("−") else tag


def figures(value: float, many: int = 4) -> str:
    """A number to so many figures, with a true minus sign, and rounding near zero taken for nothing."""
    if abs(value) < 1e-12:
        return "0"
    text = f"{value:.{many}g}"
    text = f"{value:.{max(0, many - 1 - math.floor(math.log10(abs(value))))}f}" if "e" in text else text
    return text.replace("-", "−")


def angle(value: float) -> str:
    """An angle (radians) in degrees."""
    return f"{math.degrees(value):.2f}°".replace("-", "−")
