"""Plots of an item report as inline SVG: black on white, told apart without colour, each with its words."""

from __future__ import annotations

import io
import re
from html import escape

import numpy as np

from .statistics import Value

LINE, FILL = "#16212a", "#c9d3dc"
STYLE = {"svg.fonttype": "none", "svg.hashsalt": "item report", "font.family": "sans-serif", "font.size": 9}


def items(names: list[str], values: list[Value], *, title: str, bounds: tuple[float, float], marks=()) -> str:
    """A row for each item: its value with the interval of 95 per cent; rows without a value say so.

    Parameters
    ----------
    marks : sequence of float
        Where thin lines are drawn across, for comparison.
    """
    figure, axes = _figure(7.0, 0.6 + 0.3 * len(names))
    for x in marks:
        axes.axvline(x, color=LINE, linewidth=0.6, linestyle=":")
    for row, value in enumerate(values):
        _item(axes, row, value, bounds)
    axes.set_yticks(range(len(names)), names)
    axes.set_ylim(len(names) - 0.5, -0.5)
    axes.set_xlim(*bounds)
    axes.set_xlabel(title)
    told = (
        f"{n}: {'too few' if v.value is None else f'{v.value:.2f}'}, n {v.n}"
        for n, v in zip(names, values, strict=True)
    )
    return _svg(figure, title, "; ".join(told))


def _item(axes, row: int, value: Value, bounds) -> None:
    if value.value is None:
        axes.text(bounds[0] + 0.02 * (bounds[1] - bounds[0]), row, f"no value (n = {value.n})", va="center", color=LINE)
        return
    if value.low is not None:
        axes.plot([value.low, value.high], [row, row], color=LINE, linewidth=1.2)
    axes.plot([value.value], [row], marker="o", color=LINE, markerfacecolor="white", markersize=5)


def totals(shares: np.ndarray, *, title: str) -> str:
    """How many scripts earned which share of all marks, in tenths."""
    figure, axes = _figure(7.0, 2.2)
    counts, edges = np.histogram(shares, bins=np.linspace(0, 1, 11))
    axes.bar(100 * edges[:-1] + 5, counts, width=9, color=FILL, edgecolor=LINE)
    axes.set_xlabel(f"{title} (%)")
    axes.set_ylabel("scripts")
    axes.yaxis.get_major_locator().set_params(integer=True)
    told = (f"{100 * low:.0f} to {100 * low + 10:.0f} %: {n}" for low, n in zip(edges, counts, strict=False))
    return _svg(figure, title, "; ".join(told))


def by_day(days: list[str], counts: list[int], *, title: str) -> str:
    """How many scripts came on each day."""
    figure, axes = _figure(7.0, 2.2)
    axes.bar(range(len(days)), counts, color=FILL, edgecolor=LINE)
    step = -(-len(days) // 12)
    axes.set_xticks(range(0, len(days), step), days[::step], rotation=30, ha="right")
    axes.set_ylabel("scripts")
    axes.yaxis.get_major_locator().set_params(integer=True)
    return _svg(figure, title, "; ".join(f"{day}: {n}" for day, n in zip(days, counts, strict=True)))


def _figure(width: float, height: float):
    """A figure without pyplot, which would keep it."""
    from matplotlib.figure import Figure

    figure = Figure(figsize=(width, height), layout="constrained")
    axes = figure.add_subplot()
    for side in ("top", "right"):
        axes.spines[side].set_visible(False)
    return figure, axes


def _svg(figure, title: str, words: str) -> str:
    """The figure as one element with its words inside, its names unlike those of other figures of the page."""
    from matplotlib import rc_context

    out = io.StringIO()
    with rc_context(STYLE):
        figure.savefig(out, format="svg", metadata={"Date": None, "Creator": None, "Format": None, "Type": None})
    text, own = out.getvalue(), re.sub(r"\W+", "-", title)
    text = re.sub(r"<metadata>.*?</metadata>", "", text[text.index("<svg") :], flags=re.DOTALL)
    text = re.sub(r'(id="|url\(#|href="#)', rf"\g<1>{own}-", text)
    about = f'<title id="{own}-t">{escape(title)}</title><desc id="{own}-d">{escape(words)}</desc>'
    return re.sub(
        r"<svg ([^>]*)>", rf'<svg role="img" aria-labelledby="{own}-t {own}-d" \g<1>>{_kept(about)}', text, count=1
    )


def _kept(text: str) -> str:
    """Text for a replacement, where a backslash has a meaning."""
    return text.replace("\\", "\\\\")
