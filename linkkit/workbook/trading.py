"""What one wish costs another: a picture of points with two wishes along its axes, and the same as a table."""

from __future__ import annotations

import io
from dataclasses import dataclass

import numpy as np

from ..draw.style import LOOKS
from ..errors import LinkageError
from .still import Still

SHADE = LOOKS["note"].colour


@dataclass(frozen=True, repr=False)
class TradeOff(Still):
    """A picture of designs in PNG, its description, and the same as a table."""

    png: bytes = b""


def trade_off(columns, *, names=None, limit=None, title="") -> TradeOff:
    """A picture and a table of designs: how much of the second column goes with how much of the first.

    Parameters
    ----------
    columns : dict of str to sequence of float
        Quantities with their unit, as in ``{"lift, mm": [...], "push, °": [...]}``, one value a design; the first goes
        across and the second up, the others only into the table.
    names : sequence of str, optional
        What each design is called, beside its point.
    limit : float, optional
        A value of the second quantity at which a line is drawn.
    title : str

    Raises
    ------
    LinkageError
        For fewer than two columns, or columns that differ in length.

    Examples
    --------
    >>> from linkkit.workbook import trade_off
    >>> trade_off({"lift, mm": [1083, 1150], "push, °": [46.0, 44.2]}).rows[1]
    ('1150', '44.2')
    """
    if len(columns) < 2 or len({len(column) for column in columns.values()}) > 1:
        raise LinkageError("give two columns or more, all of one length")
    figure = _figure(columns, names, limit, title)
    file = io.BytesIO()
    figure.savefig(file, format="png", dpi=96)
    rows = tuple(zip(*([f"{value:.4g}" for value in column] for column in columns.values()), strict=True))
    head = tuple(columns)
    if names is not None:
        head, rows = ("", *head), tuple((name, *row) for name, row in zip(names, rows, strict=True))
    return TradeOff((), (), _words(columns, title), head, rows, file.getvalue())


def _figure(columns, names, limit, title):
    from matplotlib.figure import Figure

    (across, x), (up, y) = list(columns.items())[:2]
    figure = Figure(figsize=(6.4, 3.6), layout="constrained")
    axes = figure.subplots()
    axes.plot(x, y, color=LOOKS["input"].colour, linewidth=1.4, linestyle="-" if names is None else "none", marker="o")
    for name, place in zip(names or (), zip(x, y, strict=True), strict=False):
        axes.annotate(name, place, xytext=(7, 5), textcoords="offset points", fontsize=9)
    if limit is not None:
        axes.axhline(limit, color=SHADE, linewidth=1.2, linestyle=(0, (5, 3)))
    axes.set(xlabel=across, ylabel=up, title=title)
    axes.grid(color="#d5dae0", linewidth=0.6)
    axes.margins(0.12)
    axes.spines[["top", "right"]].set_visible(False)
    return figure


def _words(columns, title):
    """The picture in words."""
    (across, x), (up, y) = list(columns.items())[:2]
    ends = [int(np.argmin(x)), int(np.argmax(x))]
    said = " and ".join(f"{y[k]:.4g} at {across} {x[k]:.4g}" for k in ends)
    return f"{title + ': ' if title else ''}{len(x)} designs. {up}: {said}."
