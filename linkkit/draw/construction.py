"""The position diagram as it is drawn by hand: ruler and compasses, one stage at a time, to a drawing scale
on A4.

Each stage of the machine's breakdown is one stage of the drawing: an arc round each known pin, or the line of
a guide, and the crossing that belongs to the circuit sketched. The crossings are found here from the lengths
and not taken from the solver, so that the drawing is a second way to the positions.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from html import escape

import numpy as np

from ..breakdown import linkage_groups
from ..errors import LinkageError
from . import paper, stages
from .cycle import cycle_of
from .diagram import extent
from .labels import Wish, around, boxes, place, sample, text_of
from .overlay import compared
from .paper import Paper, title_block
from .scene import Scene, Text, bounds_of
from .units import angle_text, length_text


@dataclass(frozen=True)
class Stage:
    """One stage of the drawing: what to do, in words; what is drawn; the points that it finds."""

    words: str
    shapes: tuple
    found: dict = field(default_factory=dict)


@dataclass(frozen=True)
class Construction:
    """A position diagram drawn stage by stage.

    Attributes
    ----------
    stages : tuple of Stage
    scale : float
        How many times the machine is larger than the drawing on its sheet of A4: 5 for a scale of 1:5.
    points : dict
        Where each point was found (complex, metres); numbered if there are several positions ("B₃").
    """

    stages: tuple
    on_sheet: tuple
    view: Paper
    sheet: Paper
    title: str

    @property
    def scale(self):
        return self.sheet.scale

    @property
    def description(self):
        """All stages in words."""
        return self.picture().description

    @property
    def points(self):
        return {name: z for stage in self.stages for name, z in stage.found.items()}

    def picture(self, upto=None) -> Scene:
        """The drawing after so many stages (all if not given), the latest one standing out, for a page."""
        return self._drawn(self.stages, self.view, upto)

    def page(self, upto=None) -> Scene:
        """The drawing on its sheet of A4: printed at full size it is to scale."""
        return self._drawn(self.on_sheet, self.sheet, upto)

    def _drawn(self, stages, paper, upto):
        count = len(stages) if upto is None else upto
        if not 1 <= count <= len(stages):
            raise LinkageError(f"there is no stage {count}: the construction has stages 1 to {len(stages)}")
        *before, last = done = stages[:count]
        shapes = [s for stage in before for s in stage.shapes] + [_standing_out(s) for s in last.shapes]
        line = f"Stage {count} of {len(stages)}. Scale on A4 {scale_text(self.scale)}"
        line = f"{self.title}. {line}" if paper is self.sheet else line
        shapes += title_block(paper, line)
        shapes += _names(shapes, {n: z for stage in done for n, z in stage.found.items()}, paper)
        words = " ".join(f"{k}. {stage.words}" for k, stage in enumerate(done, 1))
        return Scene(tuple(shapes), paper.bounds, paper.px, f"{self.title}, stage {count}", words)

    def over(self, answer) -> Scene:
        """The finished drawing with a drawn answer laid over it.

        Parameters
        ----------
        answer : dict of str to complex
            Where the student found points, metres in the machine.
        """
        known = self.points
        missing = [name for name in answer if name not in known]
        if missing:
            raise LinkageError(f"the construction finds no point {missing[0]}; it finds {', '.join(known)}")
        marks, words = compared(answer, known, self.view.px, self.scale)
        return self.picture().plus(*marks, words=words)

    def save(self, path):
        """Write the finished drawing on its sheet (.svg, .pdf or .png); printed at full size it is to scale."""
        return self.page().save(path)

    def _repr_html_(self):
        items = "".join(f"<li>{escape(stage.words)}</li>" for stage in self.stages)
        return f"{self.picture()._repr_html_()}<ol>{items}</ol>"

    def __repr__(self):
        return self.description


def construction(what, at=None, *, positions=None, scale=None, points=()) -> Construction:
    """The position diagram by ruler and compasses, for one position or for several evenly over the cycle.

    Parameters
    ----------
    what : Motion or Linkage
    at : int, optional
        The position, an index into the cycle.
    positions : int, optional
        So many positions evenly over the cycle instead, numbered from 1: twelve is usual.
    scale : float, optional
        5 for 1:5, 0.5 for 2:1; the largest usual drawing that fits a sheet of A4 if not given.
    points : sequence of str
        Points whose path is drawn through their positions.

    Raises
    ------
    LinkageError
        If the linkage cannot be moved, or the drawing does not fit the sheet at that scale.

    Examples
    --------
    >>> import linkkit as lk
    >>> from linkkit.draw import construction
    >>> drawing = construction(lk.move(lk.four_bar(0.4, 0.1, 0.35, 0.25)), 40)
    >>> sorted(drawing.points)
    ['A', 'B', 'B′', 'O', 'Q']
    """
    cycle = cycle_of(what, at)
    if cycle.motion is None:
        raise LinkageError("the linkage has no input that moves it: there is no position to construct")
    cycle.linkage._know_points(*points)
    sheet = paper.sheet(extent(cycle), scale)
    moments = _moments(cycle, positions)
    on_sheet = _stages(cycle, moments, sheet, points)
    view = paper.screen(_shown(cycle, on_sheet), sheet.scale)
    title = f"Position diagram: {cycle.linkage.name or 'linkage'}{_where(cycle, moments)}"
    return Construction(_stages(cycle, moments, view, points), on_sheet, view, sheet, title)


def _stages(cycle, moments, paper, points):
    board = stages.Board(cycle, moments, paper)
    done = [stages.begin(board)]
    for group in linkage_groups(cycle.linkage):
        done += stages.of_group(board, group)
    return tuple(Stage(*one) for one in (*done, stages.finish(board, points)))


def _shown(cycle, done):
    """The machine, and crossings refused unless they lie far away."""
    spots = extent(cycle)
    found = [z for stage in done for z in stage.found.values()]
    reach = spots.grown(0.4 * max(spots.width, spots.height))
    near = [z for z in found if reach.left < z.real < reach.right and reach.bottom < z.imag < reach.top]
    return spots | bounds_of(tuple(Text(z, "") for z in near))


def _standing_out(shape):
    return replace(shape, role="latest") if getattr(shape, "role", "") == "construction" else shape


def _moments(cycle, positions):
    if positions is None:
        return [cycle.moment]
    usable = np.flatnonzero(cycle.ok)
    at = np.linspace(0, len(usable) - (0 if cycle.whole_turn else 1), positions, endpoint=not cycle.whole_turn)
    return [int(usable[round(k)]) for k in at]


def _where(cycle, moments):
    if len(moments) > 1:
        return f", {len(moments)} positions"
    if moments[0] is None:
        return ", as sketched"
    value = float(cycle.input[moments[0]])
    return f", input at {angle_text(value % (2 * np.pi)) if cycle.kind == 'angle' else length_text(value)}"


def scale_text(scale) -> str:
    """A scale as a drawing states it: 1:5 or 2:1."""
    return f"1:{scale:g}" if scale >= 1 else f"{1 / scale:g}:1"


def _names(shapes, points, paper):
    """Letters at the points found, where they hide little."""
    wishes = [Wish(f"point:{n}", n, around(z, gap=7.0), size=0.85) for n, z in points.items()]
    seen = [(sample(shapes, paper.px), 1.0)] * len(wishes)
    chosen = place(wishes, seen, paper.px, paper.bounds, boxes(shapes, paper.px))
    return [text_of(w, k, paper.px) for w, k in zip(wishes, chosen, strict=True)]
