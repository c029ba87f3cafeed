"""A student's drawing laid over the right one."""

from __future__ import annotations

from .scene import Path, Text
from .units import length_text


def compared(answer, known, px, scale):
    """A cross at each point of a drawn answer, joined to where it should be; and the distance in words."""
    shapes, words = [], []
    for name, z in answer.items():
        off = abs(z - known[name])
        arm = 8 * px
        shapes += [Path((z - arm, z + arm), "answer", "motion"), Path((z - 1j * arm, z + 1j * arm), "answer", "motion")]
        shapes += [Path((z, known[name]), "answer", "motion")] if off > px else []
        shapes.append(Text(z + 16j * px, f"your {name}", "coupler", size=0.8))
        words.append(
            f"Your {name} is {length_text(off)} from where it should be, {1000 * off / scale:.1f} mm on paper."
        )
    return tuple(shapes), " ".join(words)
