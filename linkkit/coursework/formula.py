"""Formulas as students write them: read by a small parser of our own, worked out by numpy, never run as code.

What can be written: numbers, the symbols that the question names, ``+ - * / ^``, brackets, roots and the circular
functions. A product sign may be left out between factors.
"""

from __future__ import annotations

import re
from functools import lru_cache

import numpy as np

LONGEST, DEEPEST, HIGHEST = 300, 24, 12  # characters, brackets within brackets, exponent
TOKEN = re.compile(
    r"\s*(?:(?P<number>\d+\.?\d*(?:[eE][-+]?\d{1,2})?|\.\d+)|(?P<name>[A-Za-z]\w*)|(?P<sign>[-+*/^(),]))"
)
FUNCTIONS = {
    "sin": np.sin, "cos": np.cos, "tan": np.tan, "asin": np.arcsin, "acos": np.arccos, "atan": np.arctan,
    "atan2": np.arctan2, "sqrt": np.sqrt, "abs": np.abs,
}  # fmt: skip
OTHER_NAMES = {"arcsin": "asin", "arccos": "acos", "arctan": "atan", "arctan2": "atan2"}
LETTERS = {
    "θ": "theta", "φ": "phi", "ψ": "psi", "ω": "omega", "α": "alpha", "β": "beta", "γ": "gamma", "π": "pi", "√": "sqrt",
    "−": "-", "–": "-", "·": "*", "×": "*", "²": "^2", "³": "^3", "**": "^", "[": "(", "]": ")",
}  # fmt: skip


class FormulaError(ValueError):
    """A text that is no formula; the message says what is wrong, to the student."""


@lru_cache(maxsize=4096)
def parse(text: str, names: tuple[str, ...]) -> tuple:
    """The tree of a formula in these symbols: nested tuples, an operation and what it is done to.

    Raises
    ------
    FormulaError

    Examples
    --------
    >>> parse("2 r cos(theta)", ("r", "theta"))
    ('*', ('*', ('number', 2.0), ('symbol', 'r')), ('cos', ('symbol', 'theta')))
    """
    if len(text) > LONGEST:
        raise FormulaError(f"The formula has {len(text)} characters; at most {LONGEST} are read.")
    for letter, plain in LETTERS.items():
        text = text.replace(letter, plain)
    left, equals, right = text.partition("=")
    reader = _Reader(tokens(right if equals and re.fullmatch(r"\s*\w+(\(\w*\))?\s*", left) else text), names)
    tree = reader.sum()
    if reader.next is not None:
        raise FormulaError(f"“{reader.next[1]}” is not expected where it stands. Are the brackets in pairs?")
    return tree


def tokens(text: str) -> list[tuple[str, str]]:
    """The numbers, names and signs of a text, each with its kind."""
    found, at = [], 0
    text = text.rstrip()
    while at < len(text):
        token = TOKEN.match(text, at)
        if not token:
            raise FormulaError(f"“{text[at:].strip()[:1]}” can't stand in a formula here.")
        found.append((token.lastgroup, token[token.lastgroup]))
        at = token.end()
    return found


class _Reader:
    """Takes the tokens from the left: a sum of products of powers."""

    def __init__(self, found: list, names: tuple[str, ...]):
        self.left, self.names, self.depth = found[::-1], names, 0

    @property
    def next(self):
        """The next token, None at the end."""
        return self.left[-1] if self.left else None

    def takes(self, *signs) -> str | None:
        """Take the next token if it is one of these signs."""
        return self.left.pop()[1] if self.next and self.next[0] == "sign" and self.next[1] in signs else None

    def sum(self) -> tuple:
        """Products added and subtracted."""
        tree = self.product()
        while sign := self.takes("+", "-"):
            tree = (sign, tree, self.product())
        return tree

    def product(self) -> tuple:
        """Factors multiplied and divided; a product sign may be missing."""
        tree = self.signed()
        while self.next:
            sign = self.takes("*", "/")
            if not sign and not (self.next[0] != "sign" or self.next[1] == "("):
                break
            tree = (sign or "*", tree, self.signed())
        return tree

    def signed(self) -> tuple:
        """A factor with any signs before it."""
        minus = False
        while sign := self.takes("+", "-"):
            minus ^= sign == "-"
        return ("minus", self.power()) if minus else self.power()

    def power(self) -> tuple:
        """A power: the exponent is a number."""
        base = self.atom()
        if not self.takes("^"):
            return base
        minus = self.takes("-")
        return ("^", base, _exponent(self.atom()) * (-1 if minus else 1))

    def atom(self) -> tuple:
        """A number, a symbol, a function of something, or something in brackets."""
        if self.takes("("):
            return self.closed()[0]
        kind, word = self.left.pop() if self.left else ("", "")
        if kind == "number":
            return ("number", float(word))
        if kind == "name":
            return self.named(word)
        raise FormulaError(f"Something is missing {f'before “{word}”' if word else 'at the end'} of the formula.")

    def named(self, word: str) -> tuple:
        """A symbol or a function."""
        function = OTHER_NAMES.get(word, word)
        if word in self.names:
            return ("symbol", word)
        if word == "pi":
            return ("number", float(np.pi))
        if function not in FUNCTIONS:
            raise FormulaError(f"“{word[:30]}” is not known here. The symbols are: {', '.join(self.names)}.")
        if not self.takes("("):
            raise FormulaError(f"Put what {word} is taken of in brackets: {word}(…). For a square write {word}(…)^2.")
        return self.called(function)

    def called(self, function: str) -> tuple:
        """A function with what stands in its brackets."""
        within = self.closed()
        wanted = 2 if function == "atan2" else 1
        if len(within) != wanted:
            raise FormulaError(f"{function} is taken of {wanted} value{'s' * (wanted > 1)}, not of {len(within)}.")
        return (function, *within)

    def closed(self) -> list:
        """What stands in brackets, to the closing one."""
        self.depth += 1
        if self.depth > DEEPEST:
            raise FormulaError(f"There are more than {DEEPEST} brackets within each other.")
        within = [self.sum()]
        while self.takes(","):
            within.append(self.sum())
        if not self.takes(")"):
            raise FormulaError("A bracket is not closed.")
        self.depth -= 1
        return within


def _exponent(tree: tuple) -> float:
    """The exponent as a number, not too large."""
    value = float(value_of(tree, {})) if not symbols(tree) else np.inf
    if not abs(value) <= HIGHEST:
        raise FormulaError(f"An exponent has to be a number, at most {HIGHEST}.")
    return value


def symbols(tree) -> set[str]:
    """The symbols that a formula contains."""
    if not isinstance(tree, tuple):
        return set()
    return {tree[1]} if tree[0] == "symbol" else set().union(*(symbols(branch) for branch in tree[1:]))


def value_of(tree: tuple, at: dict[str, np.ndarray]):
    """What a formula comes to with numbers (or arrays of them) for its symbols; nan where it has no value."""
    operation, *parts = tree
    if operation == "number":
        return np.float64(parts[0])
    if operation == "symbol":
        return at[parts[0]]
    first, *rest = (value_of(part, at) if isinstance(part, tuple) else np.float64(part) for part in parts)
    with np.errstate(all="ignore"):
        return _done(operation, first, *rest)


def _done(operation: str, first, second=0.0):
    """One operation."""
    if operation in FUNCTIONS:
        return FUNCTIONS[operation](first, second) if operation == "atan2" else FUNCTIONS[operation](first)
    if operation == "minus":
        return -first
    simple = {"+": np.add, "-": np.subtract, "*": np.multiply, "/": np.divide, "^": np.power}
    return simple[operation](first, second)
