"""Velocity and acceleration polygons drawn line by line, as the hand closes them."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from ..errors import LinkageError
from ..polygons import acceleration_polygon, velocity_polygon
from . import symbols
from .centres import clipped
from .cycle import cycle_of
from .labels import Wish, around, beside, boxes, distance, half_size, place, sample, text_of
from .scene import Bounds, Circle, Path, Text, bounds_of
from .staged import Drawing, Stage
from .units import direction_text, round_length, significant
from .words import moment_words

BOX, EDGE_PX, NARROWEST = (460.0, 340.0), 60.0, 320.0
MARK, MISTAKEN = 0.8, 1.5  # size of a line's name; what it costs for each pixel that it is nearer to another line
SIDE_PX, FOOT_PX = 50.0, 34.0  # more room beside the polygon for the names of lines, under it for the scale bar
MANY = 7  # lines: with more, only the latest is named
KINDS = {"velocity": (velocity_polygon, "m/s"), "acceleration": (acceleration_polygon, "m/s²")}
ROLES = {
    "turning": "vector turning", "tangential": "vector turning", "normal": "vector normal",
    "sliding": "vector sliding", "Coriolis": "vector Coriolis",
}  # fmt: skip


def polygon_picture(motion, at=0, *, kind="velocity") -> Drawing:
    """The velocity or acceleration polygon at one position, one line a stage, then the images of the links.

    The pole is where the images of all fixed points lie; the image of point B is b.

    Parameters
    ----------
    motion : Motion
        With a speed.
    at : int
        The position, an index into the cycle.
    kind : {"velocity", "acceleration"}

    Returns
    -------
    Drawing
        Stages with words; ``picture(n)`` is the scene after n of them.

    Raises
    ------
    LinkageError
        For another kind, a motion without speed, a position that is not assembled or singular.

    Examples
    --------
    >>> import linkkit as lk
    >>> from linkkit.draw import polygon_picture
    >>> drawing = polygon_picture(lk.move(lk.four_bar(0.4, 0.1, 0.35, 0.25), speed=10.0), 60)
    >>> len(drawing.stages)
    4
    """
    if kind not in KINDS:
        raise LinkageError(f"a polygon shows velocity or acceleration, not {kind!r}")
    make, unit = KINDS[kind]
    cycle, polygon = cycle_of(motion, at), make(motion, at)
    if not any(a.end != a.start for a in polygon.arrows):
        raise LinkageError(f"nothing moves: give the motion a speed, or there is no {kind} to draw")
    easel = _Easel(polygon, unit)
    stages = [*_lines(easel), _images(easel)]
    title = f"{kind.capitalize()} polygon: {cycle.linkage.name or 'linkage'}, {moment_words(cycle)}"
    line, fading = f"The pole is the image of {easel.still}.", len(polygon.arrows) > MANY
    return Drawing(tuple(stages), easel.bounds, easel.px, title, easel.under, line, fading)


class _Easel:
    """The polygon and the scale at which it is drawn."""

    def __init__(self, polygon, unit):
        self.polygon, self.unit = polygon, unit
        ends = [z for a in polygon.arrows for z in (a.start, a.end)]
        box = bounds_of(tuple(Text(z, "") for z in (0j, *ends, *polygon.points.values())))
        self.px = max(box.width / (BOX[0] - 2 * EDGE_PX), box.height / (BOX[1] - 2 * EDGE_PX))
        room = box.grown(EDGE_PX * self.px)
        beside = max((2 * half_size(_told(a), MARK).real for a in self.named()), default=0.0) - EDGE_PX
        short = max(0.0, NARROWEST * self.px - room.width) / 2 + max(SIDE_PX, beside) * self.px
        foot = room.bottom - FOOT_PX * self.px
        self.bounds = Bounds(room.left - short, foot, room.right + short, room.top)
        self.paper = replace(self.bounds, bottom=foot + FOOT_PX * self.px)  # lines end above the scale bar
        at_rest = [p for p, z in polygon.points.items() if abs(z) < 1e-9 * max(map(abs, ends))]
        self.still = " and ".join(at_rest) or "what stands still"
        pole = ", ".join(p.lower() for p in at_rest) or "pole"
        size = round_length(0.25 * self.bounds.width)
        left = complex(self.bounds.left, self.bounds.bottom) + (14 + 12j) * self.px
        bar = symbols.scale_bar(left, size, self.text(size), self.px)
        dot = Circle(0j, 3.4 * self.px, "point", "pin", fill="ink")
        self.under = (*bar, dot)
        self.marks, self.pole = _marks(self, pole)
        self.under += (self.pole,)

    def named(self):
        """The lines that are long enough to bear their name."""
        return [a for a in self.polygon.arrows if abs(a.end - a.start) > 40 * self.px]

    def text(self, size):
        """A size with its unit."""
        return f"{significant(abs(size), 3)} {self.unit}"

    def seen(self, z):
        """The images that lie at an end of a line just drawn."""
        near = 1e-9 * max(abs(w) for w in self.polygon.points.values())
        return {p.lower(): w for p, w in self.polygon.points.items() if abs(w - z) <= near < abs(w)}


def _lines(easel):
    """A stage for each line; a line known in direction waits for the one that closes it."""
    waiting = None
    for arrow in easel.polygon.arrows:
        if arrow.given == "known":
            shapes = (*_arrow(easel, arrow), *_mark(easel, arrow))
            yield Stage(f"{_told(arrow)}: {_polar(easel, arrow)}.", shapes, _found(easel, arrow))
        elif arrow.given == "direction":
            waiting = arrow
            words = f"{_told(arrow)}: draw its line, at {_angle(arrow)}; how long it is, is not known yet."
            yield Stage(words, _ray(easel, arrow))
        else:
            yield _closing(easel, arrow, waiting)


def _closing(easel, arrow, waiting):
    shapes = (*_ray(easel, arrow), *_arrow(easel, waiting), *_arrow(easel, arrow))
    shapes += (*_mark(easel, waiting), *_mark(easel, arrow))
    words = f"{_told(arrow)}: draw its line, at {_angle(arrow)}. The two lines meet, and the polygon closes: "
    words += f"{_told(waiting)}, {_polar(easel, waiting)}; {_told(arrow)}, {_polar(easel, arrow)}."
    return Stage(words, shapes, _found(easel, arrow) | _found(easel, waiting))


def _images(easel):
    """The images of the links, and every point's own value read from the pole."""
    shapes = []
    for points in easel.polygon.links.values():
        spots = [easel.polygon.points[p] for p in points]
        if len(spots) > 2 and max(abs(z - spots[0]) for z in spots) > 4 * easel.px:
            shapes.append(Path(tuple(symbols.hull(spots)), "image", "back", closed=True, fill="tint"))
    moving = {p: z for p, z in easel.polygon.points.items() if easel.seen(z)}
    read = "; ".join(f"{p}: {easel.text(z)} at {_degrees(z)}" for p, z in moving.items())
    return Stage(f"Read from the pole: {read}.", tuple(shapes), {p.lower(): z for p, z in moving.items()})


def _told(arrow):
    return arrow.name if arrow.part == "whole" else f"{arrow.name}, {arrow.part}"


def _polar(easel, arrow):
    if abs(arrow.end - arrow.start) < 1e-9 * max(abs(z) for z in easel.polygon.points.values()):
        return f"0 {easel.unit}"  # what rounding leaves has no direction
    return f"{easel.text(arrow.end - arrow.start)} at {_angle(arrow)}"


def _angle(arrow):
    return _degrees(arrow.end - arrow.start)


def _degrees(z):
    return direction_text(math.atan2(z.imag, z.real))


def _arrow(easel, arrow):
    """The arrow itself; nothing if it is too short to be seen."""
    if abs(arrow.end - arrow.start) < 2 * easel.px:
        return ()
    return symbols.arrow(arrow.start, arrow.end, easel.px, role=ROLES.get(arrow.part, "vector"), layer="link")


def _ray(easel, arrow):
    """The line of a vector of which only the direction is known."""
    way = arrow.end - arrow.start
    ends = clipped(arrow.start, way / abs(way), easel.paper) if way else ()
    return (Path(ends, "construction", "construction"),) if ends else ()


def _mark(easel, arrow):
    """What the line is, written beside it; nothing if the line is shorter than its name needs."""
    return easel.marks.get(arrow, ())


def _marks(easel, pole):
    """The name of each line and that of the pole, placed together so that they keep out of each other's way."""
    arrows = easel.named()
    wishes = [Wish("pole", pole, around(0j), size=0.9)]
    wishes += [
        Wish("line", _told(a), beside(a.start, a.end), ROLES.get(a.part, "vector"), MARK, (0.0, 0.0)) for a in arrows
    ]
    lines = {a: sample(_arrow(easel, a), easel.px) for a in easel.polygon.arrows}
    drawn, taken = np.concatenate([*lines.values()]), boxes(easel.under, easel.px)
    own = dict(zip(map(id, wishes[1:]), arrows, strict=True))

    def astray(wish, spots, half):
        """Nearer to another line than to its own away from its ends, where it meets the others."""
        if id(wish) not in own:
            return 0.0
        arrow = own[id(wish)]
        rest = [z for a, z in lines.items() if a != arrow and len(z)]
        if not rest:
            return 0.0
        near = distance(spots, half, _inner(arrow)) - distance(spots, half, np.concatenate(rest))
        return MISTAKEN * np.maximum(0.0, near / easel.px + 4.0)

    chosen = place(wishes, [(drawn, 1.0)] * len(wishes), easel.px, easel.bounds, taken, astray)
    at_pole, *texts = [text_of(w, k, easel.px) for w, k in zip(wishes, chosen, strict=True)]
    return {a: (text,) for a, text in zip(arrows, texts, strict=True)}, at_pole


def _inner(arrow):
    return arrow.start + np.linspace(0.25, 0.75, 21) * (arrow.end - arrow.start)


def _found(easel, arrow):
    """The image at the end of a line, or the point on another link that the last of its lines leads to."""
    subject = arrow.name.partition(" to ")[0]
    last = [a for a in easel.polygon.arrows if a.name.partition(" to ")[0] == subject][-1]
    whole = {f"{subject[0].lower()}{subject[1:]}": arrow.end} if " on " in subject and arrow is last else {}
    return easel.seen(arrow.end) or whole
