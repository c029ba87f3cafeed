"""A picture as data: a short list of frozen shapes in machine coordinates, and the same picture in words.

Shapes carry a role ("input", "path", ...), never a colour, and a layer that says what lies over what. A group
is a list of shapes that moves as one body: a point z of it lies at ``at + turn * z``, so turning a machine
means new values of `at` and `turn` and no new shapes. Painters (SVG, matplotlib) know these shapes and
nothing of linkages.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path as File

LAYERS = (
    "back",
    "ghost",
    "ground",
    "path",
    "construction",
    "link",
    "block",
    "pin",
    "motion",
    "dimension",
    "label",
)
_DEPTH = {name: k for k, name in enumerate(LAYERS)}


@dataclass(frozen=True, slots=True)
class Path:
    """A line through two or more points; `closed` and filled on request ("tint", "paper" or "ink")."""

    points: tuple[complex, ...]
    role: str = "link"
    layer: str = "link"
    closed: bool = False
    fill: str = ""
    name: str = ""


@dataclass(frozen=True, slots=True)
class Circle:
    """A circle of `radius` (machine units) about `centre`."""

    centre: complex
    radius: float
    role: str = "pin"
    layer: str = "pin"
    fill: str = "paper"
    name: str = ""


@dataclass(frozen=True, slots=True)
class Arc:
    """A part of a circle from the angle `start` on through `sweep` (radians, anticlockwise positive)."""

    centre: complex
    radius: float
    start: float
    sweep: float
    role: str = "construction"
    layer: str = "construction"
    name: str = ""


@dataclass(frozen=True, slots=True)
class Text:
    """A label at a point: `anchor` is the part of the text that lies there ("start", "middle", "end")."""

    at: complex
    text: str
    role: str = "label"
    layer: str = "label"
    anchor: str = "middle"
    size: float = 1.0
    turn: float = 0.0
    name: str = ""


@dataclass(frozen=True, slots=True)
class Group:
    """Shapes that move as one body: their point z is drawn at ``at + turn * z``.

    A group that rides on a machine says so: its origin is the sketch point `spot` of `link`, and it turns
    with the link unless it is `upright` (as labels are). `link` is empty for what stands still.
    """

    name: str
    shapes: tuple
    at: complex = 0j
    turn: complex = 1 + 0j
    layer: str = "link"
    link: str = ""
    spot: complex = 0j
    upright: bool = False


@dataclass(frozen=True, slots=True)
class Bounds:
    """The rectangle that a picture shows, in machine coordinates."""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def width(self):
        """From left to right."""
        return self.right - self.left

    @property
    def height(self):
        """From bottom to top."""
        return self.top - self.bottom

    def grown(self, by) -> Bounds:
        """The rectangle with a margin of `by` added on each side."""
        return Bounds(self.left - by, self.bottom - by, self.right + by, self.top + by)

    def __or__(self, other) -> Bounds:
        return Bounds(
            min(self.left, other.left),
            min(self.bottom, other.bottom),
            max(self.right, other.right),
            max(self.top, other.top),
        )


@dataclass(frozen=True)
class Scene:
    """A picture: shapes, the rectangle shown, the machine units in one pixel, a title and a description in
    words.

    Shown at the end of a notebook cell it is an inline SVG that carries its title and description.

    Examples
    --------
    >>> from linkkit.draw.scene import Circle, Scene, bounds_of
    >>> shapes = (Circle(0j, 1.0),)
    >>> Scene(shapes, bounds_of(shapes), 0.01, "A circle", "A circle of radius 1.").description
    'A circle of radius 1.'
    """

    shapes: tuple
    bounds: Bounds
    px: float
    title: str
    description: str

    def svg(self, *, width=None) -> str:
        """The picture as one inline SVG element; `width` in pixels, its natural width if not given."""
        from .paint_svg import svg

        return svg(self, width=width)

    def save(self, path, *, dpi=200) -> File:
        """Write the picture to a file whose ending says how: .svg, .png or .pdf. Returns the path.

        Raises
        ------
        ValueError
            For another ending.
        """
        from .export import save

        return save(self, path, dpi=dpi)

    def without(self, *layers) -> Scene:
        """The same picture with some layers left out ("label", "path", ...)."""
        return replace(self, shapes=tuple(s for s in self.shapes if s.layer not in layers))

    def plus(self, *shapes, words="") -> Scene:
        """The same picture with more shapes drawn over it, and a sentence on them."""
        return replace(self, shapes=self.shapes + shapes, description=f"{self.description} {words}".strip())

    def _repr_html_(self):
        return f'<figure style="margin:0">{self.svg()}</figure>'

    def __repr__(self):
        return f"{self.title}: {self.description}"


def in_order(shapes) -> list:
    """The shapes from the lowest layer to the topmost, in each layer as listed."""
    return sorted(shapes, key=lambda s: _DEPTH[s.layer])


def flat(shapes, at=0j, turn=1 + 0j):
    """Every shape that is no group, with where it lies: (shape, at, turn)."""
    for shape in shapes:
        if isinstance(shape, Group):
            yield from flat(in_order(shape.shapes), at + turn * shape.at, turn * shape.turn)
        else:
            yield shape, at, turn


def bounds_of(shapes) -> Bounds:
    """The smallest rectangle round all shapes; of a text only its anchor counts.

    Raises
    ------
    ValueError
        If there is nothing to put a rectangle round.
    """
    spots = [p for shape, at, turn in flat(shapes) for p in corners(shape, at, turn) if p == p]
    if not spots:
        raise ValueError("there is nothing to draw: no shape has a point")
    x, y = [p.real for p in spots], [p.imag for p in spots]
    return Bounds(min(x), min(y), max(x), max(y))


def corners(shape, at=0j, turn=1 + 0j) -> list:
    """Points whose rectangle holds the shape."""
    if isinstance(shape, Path):
        return [at + turn * z for z in shape.points]
    if isinstance(shape, Text):
        return [at + turn * shape.at]
    centre = at + turn * shape.centre
    return [centre + shape.radius * d for d in (1, 1j, -1, -1j)]
