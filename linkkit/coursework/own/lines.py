"""The lines of slides in a student's own sketch: which of them go along when a point is moved."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

TIGHT = 1e-9  # of the sketch: a point that is so near to a line lies on it


def line_of(linkage, s) -> tuple[str | None, str | None]:
    """The points that a slide's line follows: the one through which it runs, the one toward which; None where it stays.

    A block that is pinned at one point takes its line along, unless a point of the other link lies on that line and
    so says where it is. A cylinder (a moving link of one point) points from its own pin to that of its rod.
    """
    block, on = linkage.links[s.block], linkage.links[s.on]
    beside = [p for p in on if _lies_on(linkage, p, s)]
    if len(block) != 1 or not _lies_on(linkage, block[0], s):
        return None, None
    if not beside:
        return block[0], None
    return (on[0], block[0]) if len(on) == 1 and s.on != linkage.fixed else (None, None)


def _lies_on(linkage, point: str, s) -> bool:
    size = max(abs(z) for z in linkage.points.values())
    return bool(abs(((linkage.points[point] - s.through) * np.conj(s.direction)).imag) < TIGHT * size)


def on_a_slide(linkage, point: str) -> bool:
    """Does the sketch put the point on the line of a slide whose block or guide carries it? Then it is not moved alone.

    A point that takes the line along is moved as any other.
    """
    carried = [s for s in linkage.slides if point in linkage.links[s.block] or point in linkage.links[s.on]]
    return any(_lies_on(linkage, point, s) and point not in line_of(linkage, s) for s in carried)


def follows(linkage, s, own) -> bool:
    """Does the slide's line go along with one of these points?"""
    return bool(set(line_of(linkage, s)) & set(own))


def redrawn(linkage, points: dict, own) -> tuple:
    """The slides with their lines where the points now are."""
    return tuple(_moved(linkage, s, points) if follows(linkage, s, own) else s for s in linkage.slides)


def _moved(linkage, s, points: dict):
    through, toward = line_of(linkage, s)
    if toward is None:
        return replace(s, through=points[through])
    way = points[toward] - points[through]
    return replace(s, through=points[through] + 0 * way, direction=way / np.abs(way))


def told(linkage, s, own) -> str:
    """Where a slide's line runs in the sketch, in words."""
    through, toward = line_of(linkage, s) if follows(linkage, s, own) else (None, None)
    if toward is not None:
        return f"the line from {through} to {toward}"
    place = through or f"({1000 * s.through.real:.1f}, {1000 * s.through.imag:.1f}) mm"
    return f"a line that runs in the sketch through {place} at {np.degrees(np.angle(s.direction)):.2f} degrees from +x"


def coded(linkage, s, own, spot, plain) -> tuple[str, str]:
    """The through and the direction of a slide as code; `spot` writes a point and `plain` a number."""
    through, toward = line_of(linkage, s) if follows(linkage, s, own) else (None, None)
    if toward is not None:
        way = f"({spot(toward)} - ({spot(through)}))"
        return spot(through), f"{way} / abs{way}"
    return spot(through) if through else plain(complex(s.through)), plain(complex(s.direction))
