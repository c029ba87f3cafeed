"""What is left on the page when nothing runs: key frames as an image with its words, and a table of positions."""

from __future__ import annotations

import base64
import io
from dataclasses import dataclass
from functools import cached_property
from html import escape

import numpy as np

from ..draw.animation import reading, spec_of
from ..draw.cycle import cycle_of
from ..draw.diagram import extent, line_diagram
from ..draw.scene import Scene
from .exploring import Explorer

FRAMES = 4
FRAME_PX = (290.0, 260.0)
CAPTION_PX = 22.0
COLOURS = 24  # in the image: enough for lines and letters, and small enough to lie in a notebook


@dataclass(frozen=True)
class Still:
    """Key frames with their description, and rows of a table; both survive a notebook that is not run."""

    scenes: tuple
    captions: tuple
    description: str
    head: tuple
    rows: tuple

    @cached_property
    def png(self) -> bytes:
        """The frames side by side."""
        return _png(self.scenes, self.captions)

    def markdown(self) -> str:
        """The table in Markdown."""
        lines = ["| " + " | ".join(self.head) + " |", "|" + "---|" * len(self.head)]
        return "\n".join(lines + ["| " + " | ".join(row) + " |" for row in self.rows])

    def folded(self, name="motion.png") -> str:
        """Markdown for a cell that is opened on demand, with the image as its attachment `name`."""
        title = "<details><summary>Where nothing can run: the motion in pictures and numbers</summary>"
        parts = (title, f"![{self.description}](attachment:{name})", self.markdown() if self.rows else "", "</details>")
        return "\n\n".join(part for part in parts if part)

    def attachment(self, name="motion.png") -> dict:
        """What goes under `attachments` of that cell."""
        return {name: {"image/png": base64.b64encode(self.png).decode()}}

    def _repr_html_(self):
        data = base64.b64encode(self.png).decode()
        head = "".join(f'<th scope="col">{escape(h)}</th>' for h in self.head)
        body = "".join("<tr>" + "".join(f"<td>{escape(c)}</td>" for c in row) + "</tr>" for row in self.rows)
        table = f"<table><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>" if self.rows else ""
        return (
            f'<img alt="{escape(self.description)}" src="data:image/png;base64,{data}" style="max-width:100%">{table}'
        )

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
        return Still((what,), ("",), what.description, (), ())
    if isinstance(what, Explorer):
        what, paths = what.linkage, what.options["paths"]
    cycle = cycle_of(what)
    scene = line_diagram(cycle, paths=paths, moving=True, labels="points", scale_bar=False)
    if cycle.motion is None:
        return Still((scene,), ("",), scene.description, (), ())
    spec, table = spec_of(scene, cycle)
    shown, frame = _spread(table, frames), extent(cycle)
    pictures = tuple(
        line_diagram(cycle, int(table.index[k]), paths=paths, labels="points", scale_bar=False, arrows=False,
                     frame=frame, box=FRAME_PX) for k in shown)  # fmt: skip
    captions = tuple(f"{spec['what']} {spec['values'][k]:.0f} {spec['unit']}".replace(" °", "°") for k in shown)
    words = f"{len(shown)} positions: {', '.join(captions)}. {scene.description}"
    return Still(pictures, captions, words, *_table(spec, _spread(table, rows)))


def _spread(table, count):
    n = len(table.index)
    return np.unique(np.linspace(0, n if table.closed else n - 1, count, endpoint=not table.closed).astype(int))


def _table(spec, numbers):
    """The head and the rows: the input, then every readout."""
    head = (f"{spec['what']}, {spec['unit']}", *(f"{r['name']}, {r['unit']}" for r in spec["readouts"]))
    columns = [spec["values"], *(r["values"] for r in spec["readouts"])]
    return head, tuple(tuple(reading(c[k]) for c in columns) for k in numbers)


def _png(scenes, captions):
    """Scenes side by side in one PNG of few colours, each with its caption under it."""
    from matplotlib.figure import Figure

    from ..draw.paint_figure import INCH_PX, paint

    wide = max(scene.bounds.width / scene.px for scene in scenes)
    high = max(scene.bounds.height / scene.px for scene in scenes) + CAPTION_PX
    figure = Figure(figsize=(wide * len(scenes) / INCH_PX, high / INCH_PX))
    for axes, scene, caption in zip(np.ravel(figure.subplots(1, len(scenes))), scenes, captions, strict=True):
        axes.axis("off")
        paint(scene, axes)
        axes.text(0.5, 0, caption, transform=axes.transAxes, ha="center", va="top", fontsize=8)
    figure.subplots_adjust(0, CAPTION_PX / high, 1, 1, 0, 0)
    return _few_colours(figure)


def _few_colours(figure):
    from PIL import Image

    drawn, small = io.BytesIO(), io.BytesIO()
    figure.savefig(drawn, format="png", dpi=1.25 * 96)
    Image.open(drawn).convert("RGB").quantize(COLOURS).save(small, format="png", optimize=True)
    return small.getvalue()
