"""What is true of a linkage, as a short table for people: its class, limits, swing, time ratio, transmission angle."""

from __future__ import annotations

from dataclasses import dataclass
from html import escape

import numpy as np

from ..draw.units import angle_text, direction_text, folded, length_text, significant
from ..facts import facts

SMALL = np.radians(2)  # a swing that is small on purpose, such as a level tray's, is read to a hundredth of a degree


@dataclass(frozen=True)
class Findings:
    """Rows of (what, value) to show as a table in HTML or Markdown."""

    rows: tuple

    def html(self) -> str:
        """The rows as an HTML table."""
        left = 'style="text-align:left"'
        rows = (f'<th scope="row" {left}>{escape(a)}</th><td {left}>{escape(b)}</td>' for a, b in self.rows)
        body = "".join(f"<tr>{row}</tr>" for row in rows)
        return f'<table style="border-spacing:0.8em 0.1em">{body}</table>'

    def markdown(self) -> str:
        """The rows as a Markdown table."""
        return "| fact | value |\n|---|---|\n" + "\n".join(f"| {a} | {b} |" for a, b in self.rows)

    _repr_html_ = html

    def __repr__(self):
        return "\n".join(f"{a}: {b}" for a, b in self.rows)


def findings(linkage) -> Findings:
    """The facts of a linkage in words and sensible figures.

    Examples
    --------
    >>> import linkkit as lk
    >>> from linkkit.workbook.findings import findings
    >>> print(findings(lk.four_bar(0.4, 0.1, 0.35, 0.25)).rows[0])
    ('class', 'crank-rocker')
    """
    found = facts(linkage)
    turning = _turning(linkage)
    rows = [("class", _class(found))] if found.grashof_class else []
    rows += [("input goes", _input(found, turning))]
    rows += [(f"{found.output} turns back at", _limits(found, turning))] if len(found.limits) else []
    rows += [_swing(found)] if found.swing is not None else []
    rows += [(f"stroke of {found.output}", length_text(found.stroke))] if found.stroke else []
    rows += [("time ratio", significant(found.time_ratio, 3))] if found.time_ratio else []
    return Findings((*rows, ("transmission angle", _transmission(found))))


def _swing(found):
    if found.swing > 2 * np.pi - 1e-6:
        return f"{found.output} goes", "right round"
    small = found.swing < SMALL
    text = f"{significant(np.degrees(found.swing), 2, places=2)}°" if small else angle_text(found.swing)
    return f"swing of {found.output}", text


def _turning(linkage):
    return linkage.inputs[0].kind == "angle"


def _class(found):
    if found.change_point_case:
        return f"{found.grashof_class} ({found.change_point_case})"
    return found.grashof_class


def _text(value, turning):
    return angle_text(value) if turning else length_text(value)


def _input(found, turning):
    if not found.ranges:
        return "right round"
    ranges = [np.radians(folded(np.degrees(r))) if turning else r for r in found.ranges]
    return " or ".join(f"from {_text(a, turning)} to {_text(b, turning)}" for a, b in ranges)


def _limits(found, turning):
    limits = np.sort(found.limits % (2 * np.pi) if turning else found.limits)
    return "input " + " and ".join(direction_text(v) if turning else length_text(v) for v in limits)


def _transmission(found):
    low, high = found.transmission_angle
    if not np.isfinite(low):
        return "not defined"
    return f"{angle_text(low)} to {angle_text(high)}"
