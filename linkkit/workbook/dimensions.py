"""What a slider may change of a linkage: a length between two points of a link, or how far a guide is set aside."""

from __future__ import annotations

import math
from dataclasses import dataclass

from ..draw.units import round_length
from ..errors import LinkageError
from ..redraw import offset, with_offset

SHORTEST, LONGEST = 0.3, 1.8
STEPS = 150


@dataclass(frozen=True)
class Length:
    """The distance of two points."""

    p: str
    q: str

    @property
    def name(self):
        return self.p + self.q

    def label(self, linkage):
        """What the slider is called: the points and the link that carries them."""
        owner = next((k for k, carried in linkage.links.items() if {self.p, self.q} <= set(carried)), "")
        return f"{self.name} {owner}"

    def measure(self, linkage) -> float:
        """Metres."""
        return linkage.length(self.p, self.q)

    def changed(self, linkage, metres):
        """The linkage with this length."""
        return linkage.with_length(self.p, self.q, metres)

    def limits_mm(self, linkage) -> dict:
        """Where a slider stands, and how far it goes."""
        now = 1000 * self.measure(linkage)
        return _limits(now, SHORTEST * now, LONGEST * now)


@dataclass(frozen=True)
class Offset:
    """How far the line of a slide passes from the first pin of its guide."""

    slide: str

    @property
    def name(self):
        return f"offset of {self.slide}"

    def label(self, linkage):
        return self.name

    def measure(self, linkage) -> float:
        """Metres; to the left of the slide's direction positive."""
        return offset(linkage, self.slide)

    def changed(self, linkage, metres):
        """The linkage with this offset."""
        return with_offset(linkage, self.slide, metres)

    def limits_mm(self, linkage) -> dict:
        """As far to each side as the longest link; no farther than that can any crank reach and still turn."""
        far = 1000 * max(linkage.length(*c) for c in linkage.links.values() if len(c) == 2)
        return _limits(1000 * self.measure(linkage), -far, far)


def _limits(now, low, high):
    """The page snaps to whole steps from the least value and shows all its digits: so the value is one of them."""
    step = round_length((high - low) / STEPS)
    now = tidy(now, step)
    low, high = (tidy(now + round((end - now) / step) * step, step) for end in (low, high))
    return {"value": now, "min": low, "max": high, "step": step}


def tidy(length_mm, step):
    """A length with two places more than its slider's step, for what is typed in; without the hair that the page adds."""
    return round(length_mm, max(0, 1 - math.floor(math.log10(step))))


def why(dimension, linkage, length_mm, fault) -> str:
    """Why a length cannot be had, and how far one could go towards it."""
    reached = from_mm = 1000 * dimension.measure(linkage)
    for _ in range(12):
        middle = 0.5 * (from_mm + length_mm)
        try:
            dimension.changed(linkage, middle / 1000)
        except LinkageError:
            length_mm = middle
        else:
            reached = from_mm = middle
    return f"{fault}. The picture is left as it was. {dimension.name} can go to about {reached:.1f} mm"
