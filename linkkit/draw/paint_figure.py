"""Paint a scene on matplotlib axes, for PNG, PDF and pages that show no SVG."""

from __future__ import annotations

import cmath
import math

from .scene import Arc, Circle, Path, flat, in_order
from .style import PAPER, TEXT_PX, look

INCH_PX = 96.0
POINT_PX = 72.0 / INCH_PX


def figure(scene, *, width=None):
    """A matplotlib Figure of the scene's own size (`width` in pixels if given), not known to pyplot."""
    from matplotlib.figure import Figure

    zoom = (width * scene.px / scene.bounds.width if width else 1.0) / scene.px / INCH_PX
    fig = Figure(figsize=(scene.bounds.width * zoom, scene.bounds.height * zoom), facecolor=PAPER)
    axes = fig.add_axes((0, 0, 1, 1))
    axes.axis("off")
    paint(scene, axes)
    return fig


def paint(scene, axes):
    """Draw every shape of the scene on axes in machine coordinates, equal scales."""
    b = scene.bounds
    axes.set(xlim=(b.left, b.right), ylim=(b.bottom, b.top), aspect="equal")
    for depth, (shape, at, turn) in enumerate(flat(in_order(scene.shapes))):
        _WRITE.get(type(shape), _text)(axes, shape, at, turn, depth + 2)


def _style(shape):
    style = look(shape.role)
    fill = {"": "none", "tint": style.tint, "paper": PAPER, "ink": style.colour}[getattr(shape, "fill", "")]
    dashes = (0, tuple(d / style.weight for d in style.dash)) if style.dash else "-"
    return {
        "ec": style.colour,
        "fc": fill,
        "lw": style.weight * POINT_PX,
        "ls": dashes,
        "capstyle": "round",
        "joinstyle": "round",
    }


def _path(axes, shape, at, turn, depth):
    from matplotlib.patches import Polygon

    spots = [at + turn * z for z in shape.points]
    axes.add_patch(Polygon([(z.real, z.imag) for z in spots], closed=shape.closed, zorder=depth, **_style(shape)))


def _circle(axes, shape, at, turn, depth):
    from matplotlib.patches import Circle as Round

    centre = at + turn * shape.centre
    axes.add_patch(Round((centre.real, centre.imag), shape.radius, zorder=depth, **_style(shape)))


def _arc(axes, shape, at, turn, depth):
    n = max(2, math.ceil(abs(shape.sweep) / 0.05))
    spots = (shape.centre + cmath.rect(shape.radius, shape.start + shape.sweep * k / n) for k in range(n + 1))
    _path(axes, Path(tuple(spots), shape.role, shape.layer), at, turn, depth)


def _text(axes, shape, at, turn, depth):
    from matplotlib.patheffects import withStroke

    z = at + turn * shape.at
    side = {"start": "left", "middle": "center", "end": "right"}[shape.anchor]
    axes.text(
        z.real,
        z.imag,
        shape.text,
        ha=side,
        va="center",
        color=look(shape.role).colour,
        parse_math=False,
        fontsize=TEXT_PX * shape.size * POINT_PX,
        rotation=math.degrees(shape.turn),
        rotation_mode="anchor",
        zorder=depth,
        path_effects=[withStroke(linewidth=2, foreground=PAPER)],
    )


_WRITE = {Path: _path, Circle: _circle, Arc: _arc}
