"""Graphs over the cycle, by matplotlib, each with its words and a mark at the present position."""

from __future__ import annotations

import base64
import io
from dataclasses import dataclass
from html import escape
from pathlib import Path

import numpy as np

from ..errors import LinkageError
from .style import LOOKS
from .units import significant

# quantity: (axis text with its unit, what it is in a motion, taken of a point or of a link, factor)
QUANTITIES = {
    "angle": ("angle, °", lambda m, k: np.degrees(m.angle(k))),
    "x": ("x, mm", lambda m, p: 1000 * m.point(p).real),
    "y": ("y, mm", lambda m, p: 1000 * m.point(p).imag),
    "speed": ("speed, m/s", lambda m, p: np.abs(m.velocity(p))),
    "velocity x": ("velocity along x, m/s", lambda m, p: _part(m.velocity(p), "real")),
    "velocity y": ("velocity along y, m/s", lambda m, p: _part(m.velocity(p), "imag")),
    "acceleration": ("size of acceleration, m/s²", lambda m, p: np.abs(m.acceleration(p))),
    "acceleration x": ("acceleration along x, m/s²", lambda m, p: _part(m.acceleration(p), "real")),
    "acceleration y": ("acceleration along y, m/s²", lambda m, p: _part(m.acceleration(p), "imag")),
    "angular velocity": ("angular velocity, rad/s", lambda m, k: m.angular_velocity(k)),
    "angular acceleration": ("angular acceleration, rad/s²", lambda m, k: m.angular_acceleration(k)),
}
STYLES = [
    (LOOKS[r].colour, dash)
    for r, dash in (
        ("input", "-"),
        ("coupler", (0, (6, 2))),
        ("output", (0, (2, 1.5))),
        ("path", (0, (8, 2, 2, 2))),
        ("link", (0, (1, 1))),
    )
]


@dataclass(frozen=True)
class Graph:
    """A matplotlib figure with its description; a notebook shows it as an image that carries the words."""

    figure: object
    description: str

    def save(self, path) -> Path:
        """Write the graph to .svg, .png or .pdf."""
        from .export import ending, notes

        kind = ending(path, "svg", "png", "pdf")
        self.figure.savefig(path, dpi=200, metadata=notes(self.title, self.description, kind))
        return Path(path)

    @property
    def title(self):
        """The title over the curves; empty if there is none."""
        return self.figure.get_suptitle()

    def _repr_html_(self):
        file = io.BytesIO()
        self.figure.savefig(file, format="png", dpi=110)
        data = base64.b64encode(file.getvalue()).decode()
        source = f"data:image/png;base64,{data}"
        return f'<img alt="{escape(self.description)}" src="{source}" style="max-width:100%">'

    def __repr__(self):
        return self.description


def graph(motion, *curves, at=None, title="") -> Graph:
    """Curves over the cycle of a motion; curves of one unit share an axis.

    Parameters
    ----------
    motion : Motion
    *curves : (str, str), (str, array) or (str, str, array)
        A quantity and the link or point it is taken of: ``("angle", "rocker")``, ``("speed", "B")``;
        QUANTITIES lists them. Or an axis text with its unit and an array over the cycle: ``("tray, °",
        tilt)``; with a name between them, curves of one axis text share the axis.
    at : int, optional
        The index of the position to mark.
    title : str

    Raises
    ------
    LinkageError
        If a quantity is not known or an array has not one value for each position.

    Examples
    --------
    >>> import linkkit as lk
    >>> from linkkit.draw import graph
    >>> print(graph(lk.move(lk.four_bar(0.4, 0.1, 0.35, 0.25)), ("angle", "rocker")).description[:44])
    Graph against the input. angle of rocker, °:
    """
    from matplotlib.figure import Figure
    from matplotlib.ticker import MultipleLocator

    lines = [_line(motion, *curve) for curve in curves]
    groups = list(dict.fromkeys(axis for axis, _, _ in lines))
    figure = Figure(figsize=(6.4, 1.2 + 1.9 * len(groups)), layout="constrained")
    axes = figure.subplots(len(groups), 1, sharex=True, squeeze=False)[:, 0]
    x, x_text = _input(motion)
    for ax, axis in zip(axes, groups, strict=True):
        _draw(ax, axis, [(name, y) for a, name, y in lines if a == axis], x, at)
    axes[-1].set_xlabel(x_text)
    if "°" in x_text and np.ptp(x) > 180:
        axes[-1].xaxis.set_major_locator(MultipleLocator(60))
        if 350 < np.ptp(x) < 360:  # a whole turn without its last position, which is the first again
            axes[-1].set_xlim(x.min(), x.min() + 360)
    figure.suptitle(title, fontsize=11)
    return Graph(figure, _words(title, lines, x, x_text, at))


def _line(motion, quantity, of, values=None):
    """The axis text, the curve's own name and its values."""
    if values is None and not isinstance(of, str):
        of, values = quantity.split(",")[0], of
    if values is not None:
        values = np.asarray(values, dtype=float)
        if values.shape != np.shape(motion.input):
            raise LinkageError(f"{quantity}: give one value for each of the {np.size(motion.input)} positions")
        return quantity, of, values
    if quantity not in QUANTITIES:
        raise LinkageError(f"{quantity!r} is no quantity; choose from {', '.join(QUANTITIES)}")
    text, values = QUANTITIES[quantity]
    values = values(motion, of)
    return text, of, _without_rounding(values, values)


def _part(z, part):
    """One component of a vector, nothing where it is only rounding beside the vector."""
    return _without_rounding(getattr(z, part), z)


def _without_rounding(values, beside):
    most = np.nanmax(np.abs(beside), initial=0.0)
    return np.where(np.abs(values) < 1e-12 * most, 0.0, values)


def _input(motion):
    kind = next(i.kind for i in motion.linkage.inputs if i.name == motion.drive)
    return (
        (np.degrees(motion.input), "input angle, °") if kind == "angle" else (1000 * motion.input, "input distance, mm")
    )


def _draw(ax, axis, curves, x, at):
    for (name, y), (colour, dash) in zip(curves, STYLES * (1 + len(curves) // len(STYLES)), strict=False):
        ax.plot(x, y, color=colour, linestyle=dash, linewidth=1.8, label=name)
        if at is not None:
            ax.plot(x[at], y[at], "o", color=colour, markersize=7, markerfacecolor="white", markeredgewidth=2)
    if at is not None:
        ax.axvline(x[at], color=LOOKS["note"].colour, linewidth=0.8, linestyle=(0, (3, 3)))
    ax.set_ylabel(axis)
    ax.grid(color="#d5dae0", linewidth=0.6)
    ax.margins(x=0)
    ax.spines[["top", "right"]].set_visible(False)
    ax.legend(frameon=False, fontsize=9, handlelength=3.5, loc="best")


def _words(title, lines, x, x_text, at):
    parts = [f"{title}." if title else "Graph against the input."]
    for axis, name, y in lines:
        quantity, _, unit = axis.partition(", ")
        parts.append(
            f"{quantity} of {name}, {unit}: {_course(x, y)}" if name != quantity else f"{axis}: {_course(x, y)}"
        )
        if at is not None:
            parts.append(f"At {x_text.split(',')[0]} {significant(x[at], 3)} it is {significant(y[at], 3)}.")
    return " ".join(parts)


def _course(x, y):
    if not np.isfinite(y).any():
        return "nowhere defined."
    low, high = int(np.nanargmin(y)), int(np.nanargmax(y))
    ends = [f"{significant(y[k], 3)} at {significant(x[k], 3)}" for k in (low, high)]
    return f"from {ends[0]} to {ends[1]}."
