"""Explore a linkage: a slider with a number box for each length, the picture, and the facts that follow."""

from __future__ import annotations

import ipywidgets as widgets

from ..draw.cycle import cycle_of
from ..draw.diagram import extent, line_diagram
from ..draw.units import round_length
from ..errors import LinkageError
from .findings import findings
from .later import Later
from .live import picture
from .safely import shown_in

SHORTEST, LONGEST = 0.3, 1.8
STEPS = 150


class Explorer(widgets.VBox):
    """Sliders for lengths, a picture whose input can be turned, and a table of facts.

    Attributes
    ----------
    linkage : Linkage
        As the sliders stand; the last one that could be assembled.
    sliders : dict
        The slider of each pair of points, in millimetres.
    """

    def __init__(self, linkage, lengths, points, ranges, input, fast):
        self.linkage, self._later = linkage, Later()
        self.options = {"paths": tuple(points), "ranges": ranges, "frame": _frame(linkage)}
        self.message, self.facts = widgets.HTML(), widgets.HTML()
        self.sliders = {pair: _slider(linkage, pair) for pair in lengths}
        rows = [_row(slider, pair) for pair, slider in self.sliders.items()]
        self.picture = picture(linkage, fast=fast, **self.options) if input else _Still(linkage, self.options)
        super().__init__([*rows, self.message, self.picture, self.facts])
        for pair, slider in self.sliders.items():
            slider.observe(lambda change, pair=pair: self._changed(pair, change["new"]), "value")
        self._find()

    @shown_in(lambda self: self.message)
    def _changed(self, pair, length_mm):
        try:
            linkage = self.linkage.with_length(*pair, length_mm / 1000)
        except LinkageError as fault:
            raise LinkageError(_why(self.linkage, pair, length_mm, fault)) from None
        self.picture.redraw(linkage, self.options)
        self.linkage, self.message.value = linkage, ""
        self._later.call(self._find)

    @shown_in(lambda self: self.message)
    def _find(self):
        self.facts.value = findings(self.linkage).html()


def explore(linkage, lengths=None, *, points=(), ranges=False, input=True, fast=None) -> Explorer:
    """A panel in which lengths are changed and the input is turned, and the picture and the facts follow.

    Parameters
    ----------
    linkage : Linkage
    lengths : sequence of (str, str), optional
        Pairs of points whose distance gets a slider; the two-pin links if not given.
    points : sequence of str
        Points whose paths are drawn.
    ranges : bool
        Mark how far each guided link goes.
    input : bool
        Whether the input can be turned.
    fast : bool, optional
        Draw in the page with anywidget; wherever that is present if not given.

    Examples
    --------
    >>> import linkkit as lk
    >>> from linkkit.workbook import explore
    >>> panel = explore(lk.four_bar(0.4, 0.1, 0.35, 0.25), [("O", "A")])
    >>> panel.sliders["O", "A"].value
    100.0
    """
    pairs = [tuple(pair) for pair in lengths] if lengths is not None else _bars(linkage)
    linkage._know_points(*points, *(p for pair in pairs for p in pair))
    return Explorer(linkage, pairs, points, ranges, input, fast)


def _bars(linkage):
    return [carried for carried in linkage.links.values() if len(carried) == 2]


def _frame(linkage):
    """A frame with room to grow, so that the scale seldom changes while a length does."""
    box = extent(cycle_of(linkage))
    return box.grown(0.12 * max(box.width, box.height))


def _slider(linkage, pair):
    length_mm = round(1000 * linkage.length(*pair), 2)
    step = round_length(length_mm * (LONGEST - SHORTEST) / STEPS)
    # the page snaps to whole steps from the least value: so the length that it opens with must be one of them
    low, high = (round(length_mm + round((f - 1) * length_mm / step) * step, 2) for f in (SHORTEST, LONGEST))
    return widgets.FloatSlider(value=length_mm, min=low, max=high, step=step, readout=False, continuous_update=True,
                               description=f"{''.join(pair)} {_owner(linkage, pair)}", layout={"width": "26em"},
                               style={"description_width": "9em"})  # fmt: skip


def _owner(linkage, pair):
    return next((link for link, carried in linkage.links.items() if set(pair) <= set(carried)), "")


def _row(slider, pair):
    """A slider, a number box that goes with it in the page, and the unit."""
    limits = {name: getattr(slider, name) for name in ("value", "min", "max", "step")}
    tip = f"length {''.join(pair)} in millimetres"
    box = widgets.BoundedFloatText(**limits, layout={"width": "7em"}, tooltip=tip)
    widgets.jslink((slider, "value"), (box, "value"))
    return widgets.HBox([slider, box, widgets.Label("mm")])


def _why(linkage, pair, length_mm, fault):
    """Why a length cannot be had, and how far one could go towards it."""
    from_mm = 1000 * linkage.length(*pair)
    reached = from_mm
    for _ in range(12):
        middle = 0.5 * (from_mm + length_mm)
        try:
            linkage.with_length(*pair, middle / 1000)
        except LinkageError:
            length_mm = middle
        else:
            reached = from_mm = middle
    return f"{fault}. The picture is left as it was. {''.join(pair)} can go to about {reached:.1f} mm"


class _Still(widgets.HTML):
    """A picture without an input."""

    def __init__(self, linkage, options):
        super().__init__()
        self.redraw(linkage, options)

    def redraw(self, linkage, options):
        """Show another linkage."""
        self.value = line_diagram(linkage, **options).svg()
