"""What is left on the page when nothing runs: key frames as an image with its words, and a table of positions."""

from __future__ import annotations

import base64
import io
from dataclasses import dataclass
from html import escape

import numpy as np

from ..draw.animation import reading, spec_of
from ..draw.cycle import cycle_of
from ..draw.diagram import line_diagram
from ..draw.poses import posed
from ..draw.scene import Scene
from .exploring import Explorer

FRAMES = 4
FRAME_PX = 300.0


@dataclass(frozen=True)
class Still:
    """An image (PNG bytes) with its description, and rows of a table; both survive a notebook that is not run."""

    png: bytes
    description: str
    head: tuple
    rows: tuple

    def markdown(self) -> str:
        """The table in Markdown."""
        lines = ["| " + " | ".join(self.head) + " |", "|" + "---|" * len(self.head)]
        return "\n".join(lines + ["| " + " | ".join(row) + " |" for row in self.rows])

    def _repr_html_(self):
        data = base64.b64encode(self.png).decode()
        head = "".join(f'<th scope="col">{escape(h)}</th>' for h in self.head)
        body = "".join("<tr>" + "".join(f"<td>{escape(c)}</td>" for c in row) + "</tr>" for row in self.rows)
        table = f"<table><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>" if self.rows else ""
        return f'<img alt="{escape(self.description)}" src="data:image/png;base64,{data}">{table}'

    def __repr__(self):
        return f"{self.description}\n{self.markdown()}"


def still(what, *, frames=FRAMES, rows=12, paths=()) -> Still:
    """Key frames and a table for a panel, a motion, a linkage or any picture.

    Parameters
    ----------
    what : Explorer, Motion, Linkage or Scene
    frames : int
        How many positions are drawn, evenly over the cycle.
    rows : int
        How many lines the table has.
    paths : sequence of str
        Points whose paths are drawn.

    Examples
    --------
    >>> import linkkit as lk
    >>> from linkkit.workbook import still
    >>> len(still(lk.four_bar(0.4, 0.1, 0.35, 0.25), frames=1, rows=6).rows)
    6
    """
    if isinstance(what, Scene):
        return Still(_png([what]), what.description, (), ())
    if isinstance(what, Explorer):
        what, paths = what.linkage, what.options["paths"]
    cycle = cycle_of(what)
    scene = line_diagram(cycle, paths=paths, moving=True, labels="points", scale_bar=False)
    if cycle.motion is None:
        return Still(_png([scene]), scene.description, (), ())
    spec, table = spec_of(scene, cycle)
    shown = [posed(scene, cycle, int(table.index[k])) for k in _spread(table, frames)]
    at = ", ".join(f"{spec['values'][k]:.0f} {spec['unit']}" for k in _spread(table, frames))
    words = f"{len(shown)} positions, {spec['what']} {at}. {scene.description}"
    return Still(_png(shown), words, *_table(spec, _spread(table, rows)))


def _spread(table, count):
    n = len(table.index)
    return np.unique(np.linspace(0, n if table.closed else n - 1, count, endpoint=not table.closed).astype(int))


def _table(spec, numbers):
    """The head and the rows: the input, then every readout."""
    head = (f"{spec['what']}, {spec['unit']}", *(f"{r['name']}, {r['unit']}" for r in spec["readouts"]))
    columns = [spec["values"], *(r["values"] for r in spec["readouts"])]
    return head, tuple(tuple("–" if c[k] is None else reading(c[k]) for c in columns) for k in numbers)


def _png(scenes):
    """Scenes side by side in one PNG."""
    from matplotlib.figure import Figure

    from ..draw.paint_figure import paint

    ratio = scenes[0].bounds.height / scenes[0].bounds.width
    wide = FRAME_PX if len(scenes) > 1 else 2 * FRAME_PX
    figure = Figure(figsize=(wide * len(scenes) / 96, wide * ratio / 96))
    for axes, scene in zip(np.ravel(figure.subplots(1, len(scenes))), scenes, strict=True):
        axes.axis("off")
        paint(scene, axes)
    figure.subplots_adjust(0, 0, 1, 1, 0, 0)
    file = io.BytesIO()
    figure.savefig(file, format="png", dpi=96)
    return file.getvalue()
