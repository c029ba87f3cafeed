"""The position diagram as it is drawn by hand: ruler and compasses, one stage at a time, to a drawing scale
on A4.

Each stage of the machine's breakdown is one stage of the drawing: an arc round each known pin, or the line of
a guide, and the crossing that belongs to the circuit sketched. The crossings are found here from the lengths
and not taken from the solver, so that the drawing is a second way to the positions.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ..breakdown import linkage_groups
from ..errors import LinkageError
from . import paper, stages
from .cycle import cycle_of
from .diagram import extent
from .overlay import overlaid
from .paper import title_block
from .scene import Scene, Text, bounds_of
from .staged import Drawing, Stage
from .units import direction_text, length_text


@dataclass(frozen=True)
class Construction:
    """A position diagram drawn stage by stage.

    Attributes
    ----------
    view, sheet : Drawing
        For a page, and on a sheet of A4 where it is to scale when printed at full size.
    scale : float
        How many times the machine is larger than the drawing on its sheet: 5 for a scale of 1:5.
    """

    view: Drawing
    sheet: Drawing
    scale: float

    @property
    def title(self):
        return self.view.title

    @property
    def stages(self):
        """The stages, each with its `words`."""
        return self.view.stages

    @property
    def points(self):
        """Where each point was found (complex, metres); numbered if there are several positions ("B₃")."""
        return self.view.points

    @property
    def description(self):
        """All stages in words."""
        return self.view.description

    def picture(self, upto=None) -> Scene:
        """The drawing after so many stages (all if not given), for a page."""
        return self.view.picture(upto)

    def page(self, upto=None) -> Scene:
        """The drawing after so many stages on its sheet of A4."""
        return self.sheet.picture(upto)

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
        return overlaid(self.picture(), answer, known, self.scale)

    def save(self, path):
        """Write the finished drawing on its sheet (.svg, .pdf or .png); printed at full size it is to scale."""
        return self.sheet.save(path)

    def _repr_html_(self):
        return self.view._repr_html_()

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
    title = f"Position diagram: {cycle.linkage.name or 'linkage'}{_where(cycle, moments)}"
    on_sheet = _drawing(cycle, moments, sheet, points, title, f"{title}. ")
    view = paper.screen(_shown(cycle, on_sheet.stages), sheet.scale)
    return Construction(_drawing(cycle, moments, view, points, title), on_sheet, sheet.scale)


def _drawing(cycle, moments, on, points, title, before=""):
    """All stages on a sheet, with its frame and a line that says the scale."""
    line = f"{before}Scale on A4 {scale_text(on.scale)}."
    return Drawing(_stages(cycle, moments, on, points), on.bounds, on.px, title, tuple(title_block(on, line)), line)


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
    return f", input at {direction_text(value) if cycle.kind == 'angle' else length_text(value)}"


def scale_text(scale) -> str:
    """A scale as a drawing states it: 1:5 or 2:1."""
    return f"1:{scale:g}" if scale >= 1 else f"{1 / scale:g}:1"
