"""Paint a scene as one inline SVG element: y upwards, lines of constant weight, its words inside."""

from __future__ import annotations

import cmath
import math
from functools import cache
from html import escape
from itertools import count, groupby

from .scene import Arc, Circle, Group, Path, Text, in_order
from .style import FONT, PAPER, TEXT_PX, look

_NUMBER = count(1)


def svg(scene, *, width=None, moving=False) -> str:
    """One ``<svg>`` element.

    Parameters
    ----------
    scene : Scene
    width : float, optional
        Displayed width in pixels; the height follows.
    moving : bool
        Keep each group as a ``<g data-body=... transform=...>`` that a script can move; else every shape is
        written where it lies.
    """
    key = f"lk-{next(_NUMBER)}"
    w, h = scene.bounds.width / scene.px, scene.bounds.height / scene.px
    frame = _Frame(scene, moving)
    body = frame.all(in_order(scene.shapes))
    width = width or w
    size = f'width="{_n(width)}" height="{_n(width * h / w)}"'
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_n(w)} {_n(h)}" {size} role="img" '
        f'aria-labelledby="{key}-t {key}-d" style="max-width:100%;height:auto" '
        f'font-family="{FONT}" stroke-linecap="round" stroke-linejoin="round">'
        f'<title id="{key}-t">{escape(scene.title)}</title>'
        f'<desc id="{key}-d">{escape(scene.description)}</desc>'
        f'<rect width="100%" height="100%" fill="{PAPER}"/>{body}</svg>'
    )


class _Frame:
    """Where machine coordinates lie in the picture, and how each kind of shape is written there."""

    def __init__(self, scene, moving=False):
        self.scale, self.moving = 1 / scene.px, moving
        self.corner = complex(scene.bounds.left, scene.bounds.top)
        self.write = {Circle: self._circle, Arc: self._arc, Text: self._text}

    def all(self, shapes, at=0j, turn=1 + 0j, local=False):
        """The shapes in order; plain lines of one look that follow one another, as of hatching, are one element."""
        done = []
        for plain, run in groupby(shapes, key=_plain):
            run = tuple(run)
            done += [self._path(run, at, turn, local)] if plain else [self.draw(s, at, turn, local) for s in run]
        return "".join(done)

    def draw(self, shape, at, turn, local):
        """One shape, or a group of them."""
        if isinstance(shape, Group):
            return self._group(shape, at, turn)
        if isinstance(shape, Path):
            return self._path((shape,), at, turn, local)
        return self.write[type(shape)](shape, lambda z: self._pixel(at + turn * z, local), cmath.phase(turn))

    def _pixel(self, z, local=False):
        p = z if local else z - self.corner
        return p.real * self.scale, -p.imag * self.scale

    def _group(self, group, at, turn):
        shapes = in_order(group.shapes)
        if not self.moving:
            at, turn = at + turn * group.at, turn * group.turn
            return self.all(shapes, at, turn)
        inner = self.all(shapes, local=True)
        where = placing(self._pixel(group.at), group.turn)
        return f'<g data-body="{escape(group.name)}"{self._riding(group)} transform="{where}">{inner}</g>'

    def _riding(self, group):
        """What a script needs to move the group: its link, its own origin in the sketch, whether it stays upright."""
        if not group.link:
            return ""
        p, q = self._pixel(group.spot, local=True)
        return f' data-link="{escape(group.link)}" data-spot="{p:.2f} {q:.2f}" data-upright="{int(group.upright)}"'

    def _path(self, shapes, at, turn, local):
        lines = ([self._pixel(at + turn * z, local) for z in shape.points] for shape in shapes)
        d = "".join("M" + "L".join(f"{_n(x)} {_n(y)}" for x, y in line if x == x) for line in lines)
        return f'<path d="{d}{"Z" if shapes[0].closed else ""}" {_ink(shapes[0])}/>'

    def _circle(self, shape, pixel, _turn):
        x, y = pixel(shape.centre)
        return f'<circle cx="{_n(x)}" cy="{_n(y)}" r="{_n(shape.radius * self.scale)}" {_ink(shape)}/>'

    def _arc(self, shape, pixel, _turn):
        ends = [
            shape.start + shape.sweep * k / 2 for k in range(3)
        ]  # two halves: one arc command cannot say a whole turn
        p = [pixel(shape.centre + cmath.rect(shape.radius, e)) for e in ends]
        r, way = _n(shape.radius * self.scale), int(shape.sweep < 0)
        halves = "".join(f"A{r} {r} 0 0 {way} {_n(x)} {_n(y)}" for x, y in p[1:])
        return f'<path d="M{_n(p[0][0])} {_n(p[0][1])}{halves}" {_ink(shape)}/>'

    def _text(self, shape, pixel, turned):
        (x, y), style = pixel(shape.at), look(shape.role)
        turn = math.degrees(shape.turn + turned)
        spin = f' transform="rotate({_n(-turn)} {_n(x)} {_n(y)})"' if abs(turn) > 1e-9 else ""
        return (
            f'<text x="{_n(x)}" y="{_n(y)}" dy="0.35em" text-anchor="{shape.anchor}" '
            f'font-size="{_n(TEXT_PX * shape.size)}" fill="{style.colour}" stroke="{PAPER}" stroke-width="3" '
            f'paint-order="stroke"{_name(shape)}{spin}>{escape(shape.text)}</text>'
        )


def placing(pixel, turn) -> str:
    """The SVG transform that puts a body at a pixel, turned by the unit complex number `turn` (y upwards)."""
    c, s = turn.real, turn.imag
    return f"matrix({c:.6g} {-s:.6g} {s:.6g} {c:.6g} {_n(pixel[0])} {_n(pixel[1])})"


def _plain(shape):
    """The look that a line shares with others it may be drawn with; None for what is drawn by itself."""
    alone = not isinstance(shape, Path) or shape.name or shape.fill or shape.closed
    return None if alone else (shape.role, shape.layer)


def _ink(shape):
    return _strokes(shape.role, getattr(shape, "fill", "")) + _name(shape)


@cache
def _strokes(role, fill):
    style = look(role)
    inside = {"": "none", "tint": style.tint, "paper": PAPER, "ink": style.colour}[fill]
    dash = f' stroke-dasharray="{" ".join(map(_n, style.dash))}"' if style.dash else ""
    weight = f'stroke="{style.colour}" stroke-width="{_n(style.weight)}"'
    return f'fill="{inside}" {weight}{dash} vector-effect="non-scaling-stroke"'


def _name(shape):
    return f' data-name="{escape(shape.name)}"' if shape.name else ""


def _n(x):
    return f"{x:.2f}".rstrip("0").rstrip(".")
