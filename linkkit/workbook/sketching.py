"""Sketch a path as a table of points, and look through coupler curves for linkages that trace it."""

from __future__ import annotations

from html import escape

import ipywidgets as widgets
import numpy as np

from ..draw.diagram import line_diagram
from ..draw.scene import Bounds, Circle, Path, Scene
from ..draw.units import length_text
from ..errors import LinkageError
from .safely import note, shown_in

FEWEST, MOST = 5, 24
ASK = "Change the points, then look for linkages."


class PathSketch(widgets.VBox):
    """A table of points, a button, and the linkages found, one of them drawn over the points.

    Attributes
    ----------
    places : complex array
        The points as they stand in the table, metres.
    designs : sequence
        What was found, best first; empty at first.
    linkage : Linkage or None
        The one that is drawn.
    """

    def __init__(self, places, find):
        self.find, self.designs, self.linkage = find, (), None
        self.rows, self.table = [], widgets.VBox()
        self.add, self.less, self.look = (
            widgets.Button(description=text, layout={"width": "max-content"})
            for text in ("One more point", "One point less", "Look for linkages")
        )
        self.message, self.image = widgets.HTML(note(ASK)), widgets.HTML()
        self.choice = widgets.RadioButtons(options=[], description="Found", layout={"width": "auto", "display": "none"})
        buttons = widgets.HBox([self.add, self.less, self.look])
        super().__init__([self.table, buttons, self.message, self.choice, self.image])
        self.add.on_click(lambda _: self._set([*self.places, self.places[[0, -1]].mean()]))
        self.less.on_click(lambda _: self._set(self.places[:-1]))
        self.look.on_click(self._look)
        self.choice.observe(self._chosen, "index")
        self._set(places)

    @property
    def places(self):
        return np.array([x.value + 1j * y.value for x, y in self.rows]) / 1000

    @shown_in(lambda self: self.message)
    def _set(self, places):
        if not FEWEST <= len(places) <= MOST:
            raise LinkageError(f"a closed path needs between {FEWEST} and {MOST} points here")
        self.rows = [(_box(1000 * z.real, f"x of point {n}"), _box(1000 * z.imag, f"y of point {n}"))
                     for n, z in enumerate(places, 1)]  # fmt: skip
        for box in (box for pair in self.rows for box in pair):
            box.observe(self._moved, "value")
        lines = [widgets.HBox([widgets.Label(f"{n}"), x, y]) for n, (x, y) in enumerate(self.rows, 1)]
        half = -(-len(lines) // 2)
        self.table.children = [widgets.Label("Points in order, x and y in mm; the last joins the first."),
                               widgets.HBox([widgets.VBox(lines[:half]), widgets.VBox(lines[half:])])]  # fmt: skip
        self._moved()

    @shown_in(lambda self: self.message)
    def _moved(self, _change=None):
        self.designs, self.linkage = (), None
        self.choice.layout.display = "none"
        self.image.value, self.message.value = self.picture().svg(), note(ASK)

    @shown_in(lambda self: self.message)
    def _look(self, _button=None):
        self.message.value = note("Looking …")
        self.designs = tuple(self.find(self.places))
        if not self.designs:
            raise LinkageError("nothing like it was found: make the path rounder, or give fewer corners")
        self.choice.options = [f"{n}: {_said(design)}" for n, design in enumerate(self.designs, 1)]
        self.choice.layout.display, self.choice.index = "", 0
        self._chosen()
        self.message.value = note(f"{len(self.designs)} linkages, the nearest first. Choose one.")

    @shown_in(lambda self: self.message)
    def _chosen(self, _change=None):
        if self.designs and self.choice.index is not None:
            self.linkage = self.designs[self.choice.index].linkage
            self.image.value = self.picture().svg()

    def picture(self) -> Scene:
        """The points, joined, and the linkage over them if one is chosen."""
        z = self.places
        words = "The sketch: " + ", ".join(f"({1000 * p.real:.0f}, {1000 * p.imag:.0f})" for p in z) + " mm."
        if self.linkage is None:
            bounds = Bounds(z.real.min(), z.imag.min(), z.real.max(), z.imag.max())
            bounds = bounds.grown(0.15 * max(bounds.width, bounds.height, 1e-3))
            return Scene(_marks(z, bounds.width / 600), bounds, bounds.width / 600, "A sketched path", words)
        drawn = line_diagram(self.linkage, paths=["P"], labels="points")
        return drawn.plus(*_marks(z, drawn.px), words=words)


def _box(value, tip):
    return widgets.FloatText(value=round(value, 1), step=1, tooltip=f"{tip} in millimetres", layout={"width": "7em"})


def _marks(z, px):
    rings = (Circle(p, 5 * px, role="answer", layer="motion") for p in z)
    return (Path(tuple(z), "construction", "path", closed=True), *rings)


def _said(design):
    """A design in a line: how far it misses the points, and its defects."""
    missed = next(iter(design.misses.values()), np.nan)
    defects = "; ".join(d for d in design.defects if not d.startswith("P misses")) or "no other defect found"
    return f"misses by at most {length_text(missed)}; {escape(defects)}"


def sketch_path(places_mm, find) -> PathSketch:
    """A panel in which a closed path is sketched as a table of points, and linkages that trace it are looked for.

    Parameters
    ----------
    places_mm : sequence of (float, float)
        The points that it opens with, x and y in millimetres.
    find : function
        From a complex array of places (metres) to designs, best first, whose point P draws the path: for instance
        ``index.find`` of a `linkkit.design.CurveIndex`.

    Examples
    --------
    >>> from linkkit.workbook import sketch_path
    >>> panel = sketch_path([(0, 0), (60, 10), (80, 40), (40, 60), (0, 40)], find=lambda places: ())
    >>> len(panel.places)
    5
    """
    return PathSketch([complex(x, y) / 1000 for x, y in places_mm], find)
