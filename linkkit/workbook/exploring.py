"""Explore a linkage: a slider with a number box for each length, the picture, and the facts that follow."""

from __future__ import annotations

import ipywidgets as widgets

from ..draw.cycle import cycle_of
from ..draw.diagram import extent, line_diagram
from ..errors import LinkageError
from .dimensions import Length, Offset, tidy, why
from .findings import findings
from .later import Later
from .live import picture
from .safely import shown_in, unrun


class Explorer(widgets.VBox):
    """Sliders for lengths, a picture whose input can be turned, and a table of facts.

    Attributes
    ----------
    linkage : Linkage
        As the sliders stand; the last one that could be assembled.
    sliders : dict
        The slider of each pair of points and of each slide set aside, in millimetres.
    """

    def __init__(self, linkage, dimensions, points, ranges, input, fast):
        self.linkage, self._later = linkage, Later()
        self.options = {"paths": tuple(points), "ranges": ranges, "frame": _frame(linkage)}
        self.message, self.facts = widgets.HTML(), widgets.HTML()
        self.sliders = {key: _slider(linkage, d) for key, d in dimensions.items()}
        for key, d in dimensions.items():  # before the boxes follow: the picture is what one waits for
            self.sliders[key].observe(lambda change, d=d: self._moved(d, change), "value")
        rows = [_row(self.sliders[key], d) for key, d in dimensions.items()]
        self.picture = picture(linkage, fast=fast, **self.options) if input else _Still(linkage, self.options)
        super().__init__([*rows, self.message, self.picture, self.facts])
        self._find()

    def __repr__(self):
        return unrun("sliders", ", ".join(slider.description for slider in self.sliders.values()))

    def _moved(self, dimension, change):
        """The page answers with a hair more or less than was set: that is no change."""
        was, now = (tidy(change[when], change["owner"].step) for when in ("old", "new"))
        if now != was:
            self._changed(dimension, now)

    @shown_in(lambda self: self.message)
    def _changed(self, dimension, length_mm):
        try:
            linkage = dimension.changed(self.linkage, length_mm / 1000)
        except LinkageError as fault:
            raise LinkageError(why(dimension, self.linkage, length_mm, fault)) from None
        self.picture.redraw(linkage, self.options)
        self.linkage, self.message.value = linkage, ""
        self._later.call(self._find)

    @shown_in(lambda self: self.message)
    def _find(self):
        self.facts.value = findings(self.linkage).html()


def explore(linkage, lengths=None, *, offsets=(), points=(), ranges=False, input=True, fast=None) -> Explorer:
    """A panel in which lengths are changed and the input is turned, and the picture and the facts follow.

    Parameters
    ----------
    linkage : Linkage
    lengths : sequence of (str, str), optional
        Pairs of points whose distance gets a slider; the two-pin links if not given.
    offsets : sequence of str
        Slides of the fixed link whose distance from its first pin gets a slider.
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
    dimensions = {pair: Length(*pair) for pair in pairs} | {slide: Offset(slide) for slide in offsets}
    return Explorer(linkage, dimensions, points, ranges, input, fast)


def _bars(linkage):
    return [carried for carried in linkage.links.values() if len(carried) == 2]


def _frame(linkage):
    """A frame with room to grow, so that the scale seldom changes while a length does."""
    box = extent(cycle_of(linkage))
    return box.grown(0.12 * max(box.width, box.height))


def _slider(linkage, dimension):
    return widgets.FloatSlider(
        **dimension.limits_mm(linkage),
        readout=False,
        description=dimension.label(linkage),
        layout={"width": "28em"},
        style={"description_width": "11em"},
    )


def _row(slider, dimension):
    """A slider, a number box that goes with it, and the unit."""
    limits = {name: getattr(slider, name) for name in ("value", "min", "max", "step")}
    tip = f"{'' if isinstance(dimension, Offset) else 'length '}{dimension.name} in millimetres"
    box = widgets.BoundedFloatText(**limits, layout={"width": "7em"}, tooltip=tip)
    widgets.dlink((slider, "max"), (box, "max"))
    widgets.dlink((slider, "value"), (box, "value"), lambda length_mm: tidy(length_mm, slider.step))

    def typed(change):
        """Only what was typed goes back: a hair's difference would pull the slider from under the hand."""
        if tidy(slider.value, slider.step) != change["new"]:
            slider.value = change["new"]

    box.observe(typed, "value")
    return widgets.HBox([slider, box, widgets.Label("mm")])


class _Still(widgets.HTML):
    """A picture without an input."""

    def __init__(self, linkage, options):
        super().__init__()
        self.redraw(linkage, options)

    def redraw(self, linkage, options):
        """Show another linkage."""
        self.value = line_diagram(linkage, **options).svg()
