"""A drawing made stage by stage, each with its words; the latest stage stands out."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from html import escape

import numpy as np

from ..errors import LinkageError
from .labels import Wish, around, boxes, covered, over, place, sample, text_of
from .scene import Bounds, Scene, Text

MANY = 12  # points
INK = 0.85  # of the box of a text that is kept free round it
LEFT_OUT = "Where points lie close together some of their names are left out."


@dataclass(frozen=True)
class Stage:
    """One stage: what to do, in words; what is drawn; the points that it finds."""

    words: str
    shapes: tuple
    found: dict = field(default_factory=dict)


@dataclass(frozen=True)
class Drawing:
    """Stages drawn one over the other.

    Attributes
    ----------
    stages : tuple of Stage
    bounds, px
        As for a Scene.
    title : str
    under : tuple
        Shapes that are there from the beginning.
    line : str
        A line of text said with every stage.
    fading : bool
        Draw the construction lines of earlier stages faint and leave out their texts, where there are many.
    """

    stages: tuple
    bounds: Bounds
    px: float
    title: str
    under: tuple = ()
    line: str = ""
    fading: bool = False

    @property
    def points(self) -> dict:
        """Where each point was found (complex)."""
        return {name: z for stage in self.stages for name, z in stage.found.items()}

    @property
    def description(self) -> str:
        """All stages in words."""
        return self.picture().description

    def picture(self, upto=None) -> Scene:
        """The drawing after so many stages, all if not given.

        Raises
        ------
        LinkageError
            If there is no such stage.
        """
        count = len(self.stages) if upto is None else upto
        if not 1 <= count <= len(self.stages):
            raise LinkageError(f"there is no stage {count}: the drawing has stages 1 to {len(self.stages)}")
        *before, last = done = self.stages[:count]
        old = [self._old(s) for stage in before for s in stage.shapes if not (self.fading and isinstance(s, Text))]
        shapes = [*self.under, *old, *map(_standing_out, last.shapes)]
        points = {n: z for stage in done for n, z in stage.found.items()}
        names = self._names(shapes, last.found | points)
        words = [*(f"{k}. {stage.words}" for k, stage in enumerate(done, 1)), self.line]
        words += [LEFT_OUT] if len(names) < len(points) else []
        shown = (*shapes, *names)
        return Scene(shown, self.bounds, self.px, f"{self.title}, stage {count}", " ".join(filter(None, words)))

    def _old(self, shape):
        thin = self.fading and getattr(shape, "role", "") == "construction"
        return replace(shape, role="faint") if thin else shape

    def _names(self, shapes, points):
        """Letters at the points found, where they hide little; in a crowd those that would hide others are left out."""
        crowd = len(points) > MANY  # there a letter far from its point would be read at another one
        size, rings = (0.75, 2) if crowd else (0.9, 3)
        wishes = [Wish(f"point:{n}", n, around(z, gap=5.0, rings=rings), size=size) for n, z in points.items()]
        seen = [(sample(shapes, self.px), 0.4 if crowd else 1.0)] * len(wishes)
        taken = boxes(shapes, self.px)
        chosen = place(wishes, seen, self.px, self.bounds, taken)
        texts = [text_of(w, k, self.px) for w, k in zip(wishes, chosen, strict=True)]
        return _legible(texts, np.array(list(points.values())), taken, self.px) if crowd else texts

    def save(self, path):
        """Write the finished drawing (.svg, .pdf or .png)."""
        return self.picture().save(path)

    def _repr_html_(self):
        items = "".join(f"<li>{escape(stage.words)}</li>" for stage in self.stages)
        picture = self.picture()
        note = " ".join(filter(None, [self.line, LEFT_OUT if picture.description.endswith(LEFT_OUT) else ""]))
        note = f"<p>{escape(note)}</p>" if note else ""
        return f"{picture._repr_html_()}<ol>{items}</ol>{note}"

    def __repr__(self):
        return self.description


def _legible(texts, points, taken, px):
    """Those texts, the first ones first, that lie over no other text and over no point but their own."""
    kept, mark = [], 2.5 * (1 + 1j) * px
    for k, text in enumerate(texts):
        ((z, half),) = boxes((text,), px)
        half = INK * half
        if not over((z, half), taken) and not covered(z, half + mark, np.delete(points, k)):
            kept.append(text)
            taken = [*taken, (z, half)]
    return kept


def _standing_out(shape):
    return replace(shape, role="latest") if getattr(shape, "role", "") == "construction" else shape
