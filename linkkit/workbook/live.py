"""The picture of a panel: drawn in the page from a table of poses where anywidget is present, else by the kernel."""

from __future__ import annotations

import ipywidgets as widgets
import numpy as np
import traitlets

from ..draw.animation import asset, controls, reading, rpm_choices, spec_of
from ..draw.cycle import cycle_of
from ..draw.diagram import line_diagram
from ..draw.paint_svg import svg
from ..draw.poses import posed
from .safely import shown_in

STEPS = 360


def has_anywidget() -> bool:
    """Whether the faster picture can be had."""
    try:
        import anywidget  # noqa: F401
    except ImportError:
        return False
    return True


def picture(linkage, *, fast=None, **options):
    """A picture of a linkage whose input can be turned: `fast` draws in the page and needs anywidget."""
    fast = has_anywidget() if fast is None else fast
    return _live()(linkage, options) if fast else KernelPicture(linkage, options)


def drawn(linkage, options):
    """The scene of a linkage for a picture that moves, and its cycle."""
    cycle = cycle_of(linkage)
    return line_diagram(cycle, moving=True, **options), cycle


_made = {}


def _live():
    """The class of the fast picture, made when it is first wanted, because anywidget may be missing."""
    if not _made:
        import anywidget

        class LivePicture(anywidget.AnyWidget):
            """Moves in the page; `index` tells the kernel, a little later, which position is shown."""

            _esm = asset("player.js") + "\n" + asset("live.js", __package__)
            _css = asset("player.css")
            markup = traitlets.Unicode().tag(sync=True)
            picture = traitlets.Unicode().tag(sync=True)
            spec = traitlets.Dict().tag(sync=True)
            numbers = traitlets.Bytes().tag(sync=True)
            version = traitlets.Int(0).tag(sync=True)
            index = traitlets.Int(0).tag(sync=True)

            def __init__(self, linkage, options):
                self.places = {}
                self.scene, cycle = drawn(linkage, options | {"places": self.places})
                spec, table = spec_of(self.scene, cycle, most=STEPS)
                markup = controls(self.scene, spec, rpm_choices(spec["closed"]), "")
                sent, numbers = packed(spec, table)
                super().__init__(markup=markup, spec=sent, numbers=numbers, index=spec["start"])

            def redraw(self, linkage, options):
                """Show another linkage; the input stays where it is as far as it can."""
                self.scene, cycle = drawn(linkage, options | {"places": self.places})
                spec, numbers = packed(*spec_of(self.scene, cycle, most=STEPS))
                with self.hold_sync():
                    self.picture, self.spec = svg(self.scene, moving=True), spec
                    self.numbers, self.version = numbers, self.version + 1

        _made["class"] = LivePicture
    return _made["class"]


def packed(spec, table) -> tuple:
    """What is said of the picture, and all its numbers as one block of 32-bit floats, little-endian.

    First the table of poses, then the values of the input, then those of each readout.
    """
    columns = [spec["values"], *(r["values"] for r in spec["readouts"])]
    block = np.concatenate([table.table.ravel(), np.array(columns, dtype=float).ravel()])
    readouts = [{"name": r["name"], "unit": r["unit"]} for r in spec["readouts"]]
    rest = {key: spec[key] for key in spec.keys() - {"values"}}
    return rest | {"readouts": readouts}, block.astype("<f4").tobytes()


class KernelPicture(widgets.VBox):
    """The same picture with core ipywidgets: a slider for the input, the kernel paints each position."""

    def __init__(self, linkage, options):
        self.image, self.places = widgets.HTML(), {}
        self.slider = widgets.FloatSlider(
            continuous_update=True, readout=False, layout={"width": "24em"}, style={"description_width": "initial"}
        )
        self.box = widgets.BoundedFloatText(layout={"width": "8em"})
        self.unit, self.values, self.message = widgets.Label(), widgets.HTML(), widgets.HTML()
        super().__init__([self.image, widgets.HBox([self.slider, self.box, self.unit]), self.values, self.message])
        self._show(linkage, options)
        widgets.link((self.slider, "value"), (self.box, "value"))
        self.slider.observe(self._turned, "value")

    def redraw(self, linkage, options):
        """Show another linkage; the input stays where it is as far as it can."""
        self._show(linkage, options, keep=self.slider.value)

    def _show(self, linkage, options, keep=None):
        self.scene, self.cycle = drawn(linkage, options | {"places": self.places})
        self.spec, self.table = spec_of(self.scene, self.cycle)
        values = self.spec["values"]
        start = values[self.spec["start"]] if keep is None else keep
        for part in (self.slider, self.box):
            limit(part, min(values), max(values), start)
        self.slider.step = self.box.step = max(np.ptp(values) / max(len(values) - 1, 1), 1e-6)
        self.slider.description, self.unit.value = self.spec["what"], self.spec["unit"]
        self._turned()

    @shown_in(lambda self: self.message)
    def _turned(self, _change=None):
        k = int(np.argmin(np.abs(np.array(self.spec["values"]) - self.slider.value)))
        self.image.value = svg(posed(self.scene, self.cycle, int(self.table.index[k])))
        self.message.value = ""
        self.values.value = "; ".join(
            f"{r['name']} {reading(r['values'][k])} {r['unit']}" for r in self.spec["readouts"]
        )


def limit(part, low, high, value):
    """Give a bounded widget new limits and a value inside them, in an order that never crosses."""
    part.min = min(part.min, low)
    part.max = high
    part.min = low
    part.value = min(max(value, low), high)
