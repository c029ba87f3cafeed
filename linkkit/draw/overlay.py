"""A student's drawing laid over the right one."""

from __future__ import annotations

from .labels import Wish, around, boxes, place, sample, text_of
from .scene import Path
from .units import length_text


def overlaid(scene, answer, known, scale):
    """The scene with a cross at each point of a drawn answer, joined to where it should be, and the distances in words.

    `answer` and `known` are tables of points (complex, metres); `scale` is that of the drawing, 5 for 1:5.
    """
    shapes, words = [], []
    for name, z in answer.items():
        off = abs(z - known[name])
        shapes += [*_cross(z, 8 * scene.px), Path((z, known[name]), "answer", "motion")]
        words.append(
            f"Your {name} is {length_text(off)} from where it should be, {1000 * off / scale:.1f} mm on paper."
        )
    return scene.plus(*shapes, *_names(scene, shapes, answer), words=" ".join(words))


def _cross(z, arm):
    return [Path((z - arm * d, z + arm * d), "answer", "motion") for d in (1, 1j)]


def _names(scene, shapes, answer):
    wishes = [Wish(name, f"your {name}", around(z, gap=12.0), "coupler", 0.8) for name, z in answer.items()]
    seen = [(sample((*scene.shapes, *shapes), scene.px), 1.0)] * len(wishes)
    chosen = place(wishes, seen, scene.px, scene.bounds, boxes(scene.shapes, scene.px))
    return [text_of(w, k, scene.px) for w, k in zip(wishes, chosen, strict=True)]
