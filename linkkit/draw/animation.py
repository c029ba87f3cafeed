"""A linkage that moves in the page by itself: one piece of HTML, no kernel; nothing moves until asked."""

from __future__ import annotations

import json
from dataclasses import dataclass
from functools import cache
from html import escape
from importlib.resources import files
from itertools import count
from pathlib import Path

import numpy as np

from ..errors import LinkageError
from .cycle import cycle_of
from .diagram import line_diagram
from .paint_svg import svg
from .poses import poses
from .units import folded, significant

RPM = (2, 5, 10, 20, 30)
STRIDES = 36
_NUMBER = count(1)


@dataclass(frozen=True)
class Animation:
    """A moving picture: its HTML, its title and its description.

    It plays in a notebook, also in one saved as a static page, and in a file of its own.
    """

    html: str
    title: str
    description: str

    def save(self, path) -> Path:
        """Write a page of its own (.html), which needs nothing else. Returns the path."""
        from .export import ending

        ending(path, "html", "htm")
        path = Path(path)
        path.write_text(page(self.title, self.html), encoding="utf-8")
        return path

    def _repr_html_(self):
        return self.html

    def __repr__(self):
        return f"{self.title}: {self.description}"


def animation(what, *, paths=(), readouts=None, work_rpm=None, steps=180, title=None, **options) -> Animation:
    """The cycle of a linkage with play, pause, step, speed and a slider for the input.

    Parameters
    ----------
    what : Motion or Linkage
    paths : sequence of str
        Points whose paths are drawn.
    readouts : dict of str to (str, array), optional
        Numbers shown with the picture: a name, its unit, and its value at each position of the cycle. The
        angle or travel of the output if not given.
    work_rpm : float, optional
        The speed at work; each speed shown then says what part of it it is.
    steps : int
        The most positions.
    **options
        As for `line_diagram`.

    Raises
    ------
    LinkageError
        If the linkage cannot be moved.

    Examples
    --------
    >>> import linkkit as lk
    >>> from linkkit.draw import animation
    >>> "Play" in animation(lk.four_bar(0.4, 0.1, 0.35, 0.25)).html
    True
    """
    cycle = cycle_of(what)
    if cycle.motion is None:
        raise LinkageError("the linkage has no input that moves it, so it cannot be animated")
    title = title or f"Moving diagram: {cycle.linkage.name or 'linkage'}"
    scene = line_diagram(cycle, paths=paths, title=title, moving=True, **options)
    spec, table = spec_of(scene, cycle, readouts=readouts, most=steps)
    key = f"linkkit-{next(_NUMBER)}"
    markup = controls(scene, spec, rpm_choices(spec["closed"], work_rpm), key)
    return Animation(
        _style() + markup + _script(key, spec | {"poses": _numbers(table.table)}), scene.title, scene.description
    )


def spec_of(scene, cycle, *, readouts=None, most=360) -> tuple:
    """What the player is told (the input's values, the numbers to show beside the picture), and the table of poses."""
    table = poses(scene, cycle, most=most)
    angle = cycle.kind == "angle"
    values = folded(np.degrees(table.input)) if angle else 1000 * table.input
    spread = np.ptp(values) if len(values) > 1 else 1
    shown = output_readout(cycle) if readouts is None else readouts
    return {
        "links": list(table.links),
        "n": len(values),
        "values": np.round(values, 4).tolist(),
        "unit": "°" if angle else "mm",
        "what": f"{_input_name(cycle)}",
        "closed": bool(table.closed),
        "turn": 360 if angle else 0,
        "start": table.start,
        "stride": max(1, round(len(values) / STRIDES)) if spread else 1,
        "readouts": [_readout(name, unit, np.asarray(v)[table.index]) for name, (unit, v) in shown.items()],
    }, table


def _numbers(table):
    """The table as plain numbers short enough to send: hundredths of a pixel, hundred-thousandths of a direction."""
    rounded = np.concatenate([np.round(table[..., :2], 2), np.round(table[..., 2:], 5)], axis=-1)
    return [float(f"{x:g}") if x else 0 for x in rounded.ravel().tolist()]


def _input_name(cycle):
    drive = next(i for i in cycle.linkage.inputs if i.name == cycle.motion.drive)
    driven = drive.links[0] if drive.links[1] == cycle.linkage.fixed else drive.links[1]
    return f"{driven} angle" if drive.kind == "angle" else f"{drive.name} distance"


def output_readout(cycle) -> dict:
    """The angle of the output link, or the travel of one that does not turn."""
    out = cycle.linkage.output
    if not out or out == cycle.linkage.fixed:
        return {}
    turn = cycle.turn(out)
    if np.nanmax(np.abs(turn - turn[cycle.ok][0])) > 1e-9:
        return {f"{out} angle": ("°", np.degrees(cycle.motion.angle(out)))}
    carried = cycle.linkage.links[out]
    z = cycle.point(carried[0]) if carried else cycle.place(out, 0j)
    axis = "x" if np.ptp(z.real[cycle.ok]) >= np.ptp(z.imag[cycle.ok]) else "y"
    return {f"{out} {axis}": ("mm", 1000 * (z.real if axis == "x" else z.imag))}


def _readout(name, unit, values):
    values = folded(values) if unit == "°" else values
    return {"name": name, "unit": unit, "values": [v if v == v else None for v in np.round(values, 3).tolist()]}


def reading(value) -> str:
    """A number as the player shows it, to a tenth."""
    return "–" if value is None else significant(value, 1, places=1)


def rpm_choices(closed, work_rpm=None) -> list:
    """Pairs (speed in cycles a minute, what it is called)."""
    unit = "rpm" if closed else "strokes to and fro a minute"
    part = f", 1/{{:.0f}} of {work_rpm:g} rpm" if work_rpm else ""
    return [(r, f"{r} {unit}{part.format(work_rpm / r) if work_rpm else ''}") for r in RPM]


def controls(scene, spec, speeds, key) -> str:
    """The picture, its controls and its words as HTML; the parts that the player uses are marked by data-part."""
    options = "".join(
        f'<option value="{r}"{" selected" if r == 10 else ""}>{escape(text)}</option>' for r, text in speeds
    )
    at, what, unit = spec["start"], escape(spec["what"]), escape(spec["unit"])
    rows = "".join(_reading_row(r, at) for r in spec["readouts"])
    return f"""
<section class="linkkit-player" id="{key}" aria-label="{escape(scene.title)}">
<div data-part="picture">{svg(scene, moving=True)}</div>
<div class="controls">
<label>{what} <input data-part="range" type="range" min="0" max="{spec["n"] - 1}" step="1" value="{at}"></label>
<label>{what}, {unit} <input data-part="box" type="number" step="any" value="{spec["values"][at]:.1f}"></label>
<button data-part="play" type="button">Play</button>
<button data-part="back" type="button">Step back</button>
<button data-part="on" type="button">Step on</button>
<label>Slow motion <select data-part="speed">{options}</select></label>
</div>
<dl>{rows}</dl>
<details><summary>The picture in words</summary><p>{escape(scene.description)}</p></details>
</section>"""


def _reading_row(readout, at):
    name, unit, value = escape(readout["name"]), escape(readout["unit"]), reading(readout["values"][at])
    return f"<dt>{name}</dt><dd><span data-readout>{value}</span> {unit}</dd>"


def _script(key, spec):
    data = json.dumps(spec, separators=(",", ":")).replace("<", "\\u003c")
    start = f'linkkitPlayer(document.getElementById("{key}"), {data});'
    return f"<script>(() => {{\n{asset('player.js')}\n{start}\n}})();</script>"


def _style():
    return f"<style>{asset('player.css')}</style>"


@cache
def asset(name, package=__package__) -> str:
    """The text of a file that stands beside this module, or in another package."""
    return files(package).joinpath(name).read_text(encoding="utf-8")


def page(title, body) -> str:
    """A whole HTML page round a body."""
    return (
        f'<!doctype html>\n<html lang="en"><head><meta charset="utf-8"><title>{escape(title)}</title>'
        '<meta name="viewport" content="width=device-width, initial-scale=1"></head>\n'
        '<body style="margin:1.5em;background:#ffffff;font-family:system-ui,sans-serif">'
        f'<main><h1 style="font-size:20px">{escape(title)}</h1>'
        f"{body}</main></body></html>\n"
    )
