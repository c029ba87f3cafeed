"""How near is near enough: from how the student was asked to work, not from taste."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

DEGREE = np.pi / 180
WORDS = {"deg": ("degrees", 1 / DEGREE), "mm": ("mm", 1e3), "rad": ("radians", 1.0)}
FLOORS = {"deg": 0.5 * DEGREE, "mm": 2e-4, "": 5e-3}  # what three figures leave of a value near zero


@dataclass(frozen=True)
class Tolerance:
    """`relative` of the right value, never less than the `floor` (SI); modulo a `turn` if that is set."""

    relative: float
    floor: float
    turn: bool
    asked: str

    def width(self, right) -> np.ndarray:
        """Half the width of the accepted range about `right` (SI)."""
        return np.maximum(self.relative * np.abs(right), self.floor)

    def off(self, given, right) -> np.ndarray:
        """How far `given` is from `right` (SI), angles the short way round."""
        gap = np.asarray(given, dtype=float) - right
        return np.abs(np.angle(np.exp(1j * gap))) if self.turn else np.abs(gap)

    def holds(self, given, right) -> np.ndarray:
        """Is `given` near enough to `right`? Not a number never is."""
        return self.off(given, right) <= self.width(right)

    def apart(self, right, wrong) -> np.ndarray:
        """Have the ranges about a right and a wrong value nothing in common? No value at all is apart."""
        return ~(self.off(wrong, right) <= self.width(right) + self.width(wrong))

    def sentence(self, unit: str) -> str:
        """What the student is told, in the unit asked for."""
        word, factor = WORDS.get(unit, (unit, 1.0))
        floor = f"{self.floor * factor:.3g} {word}".strip()
        near = f"{100 * self.relative:.3g} % of the value, or {floor} if that is more" if self.relative else floor
        return f"{self.asked[:1].upper()}{self.asked[1:]}. Accepted within {near}."


def drawn(unit: str, scale: float = 1.0, *, turn: bool = False) -> Tolerance:
    """Read off a drawing at 1 : `scale`: a millimetre of paper, two degrees (common practice, no source)."""
    asked = f"Draw it to a scale of 1 : {scale:g}" if scale != 1 else "Draw it full size"
    return Tolerance(0.0, 2 * DEGREE if unit == "deg" else 1e-3 * scale, turn, asked)


def calculated(unit: str, *, turn: bool = False, size: float = 0.0) -> Tolerance:
    """Calculated to three significant figures with steps rounded on the way: 1 %, or the floor near zero.

    The third figure is worth up to half a per cent; the other half is for rounding on the way. A relative
    tolerance
    means nothing for a direction, so an angle has the floor alone. `turn`: whole turns make no difference. `size` (SI)
    is what the quantity is when it is large; the floor is then half a per cent of that.
    """
    floor = 0.005 * size if size else FLOORS[unit]
    return Tolerance(0.0 if unit == "deg" else 0.01, floor, turn, "Calculate it to three significant figures")


def stepwise(size: float) -> Tolerance:
    """Calculated in a row of steps, each rounded to three or four figures: twice what a single calculation is allowed.

    Differences of nearly equal parts lose a figure on the way. `size` (SI) as in `calculated`.
    """
    return Tolerance(0.02, 0.01 * size, False, "Calculate it to three significant figures, with four on the way")


def coded(unit: str, *, turn: bool = False) -> Tolerance:
    """Returned by the student's function: the rounding of a long calculation, with much to spare."""
    return Tolerance(
        0.0 if unit == "rad" else 1e-6,
        1e-6 if unit == "rad" else 1e-9,
        turn,
        "Your function works to full precision",
    )
