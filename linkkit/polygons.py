"""Velocity and acceleration polygons as data, in the order in which they are drawn.

For each chain: first what is known in size and direction, then from two sides what is known in direction only;
where these two lines meet the polygon closes. Then the other points of the links follow by their images.
Method: the graphical method of every text on the theory of machines (relative velocity and relative acceleration).
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from .breakdown import linkage_groups
from .errors import LinkageError

NOTHING = 1e-12  # of the largest arrow: a known arrow that is shorter is left out


@dataclass(frozen=True)
class Arrow:
    """One line of a polygon.

    Attributes
    ----------
    start, end : complex
        In m/s or m/s2; absolute values start at the pole, 0.
    name : str
        What it is: "B" is the value at point B, "B to A" that of B as seen from A.
    part : str
        "whole", "turning", "sliding", "from the input"; of an acceleration also "normal", "tangential", "Coriolis".
    given : str
        "known"; "direction" if only its line is known until the polygon closes; "closing" for the line that closes it.
    step : int
        The number of the chain to which it belongs, from 0 for the input.
    """

    start: complex
    end: complex
    name: str
    part: str
    given: str
    step: int

    @property
    def text(self):
        """The line in words."""
        how = {
            "known": "known in size and direction",
            "direction": "known in direction",
            "closing": "known in direction: where it meets the line before, the polygon closes",
        }
        return f"{self.name}, {self.part}: {how[self.given]}"


@dataclass(frozen=True)
class Polygon:
    """A velocity or acceleration polygon at one position.

    Attributes
    ----------
    kind : str
        "velocity" (m/s) or "acceleration" (m/s2).
    arrows : tuple of Arrow
        In the order in which they are drawn.
    points : dict of str to complex
        The image of each point of the linkage: its velocity or acceleration, seen from the pole 0.
    links : dict of str to tuple of str
        The points of each link, whose images make a figure similar to the link.
    """

    kind: str
    arrows: tuple
    points: dict
    links: dict

    def image(self, link):
        """The images of the points of one link, {point: complex}."""
        return {p: self.points[p] for p in self.links[link]}

    def upto(self, count) -> Polygon:
        """The polygon with its first `count` arrows only, and the points that these reach."""
        shown = self.arrows[:count]
        ends = [a.end for a in shown] + [0j]
        near = 1e-9 * max((abs(z) for z in self.points.values()), default=0.0)
        points = {p: z for p, z in self.points.items() if min(abs(z - e) for e in ends) <= near}
        return replace(self, arrows=shown, points=points)


def velocity_polygon(motion, position=0) -> Polygon:
    """The velocity polygon at one position of a motion.

    Raises
    ------
    LinkageError
        If the linkage is not assembled there or stands in a singular position.

    Examples
    --------
    >>> import linkkit as lk
    >>> bar = lk.move(lk.four_bar(0.4, 0.1, 0.35, 0.25), [1.0], speed=10.0)
    >>> [(arrow.name, arrow.given) for arrow in velocity_polygon(bar).arrows]
    [('A', 'known'), ('B to A', 'direction'), ('B', 'closing')]
    """
    return _Drawing(motion, position, "velocity").polygon()


def acceleration_polygon(motion, position=0) -> Polygon:
    """The acceleration polygon at one position of a motion, with normal, tangential and Coriolis parts.

    Examples
    --------
    >>> import linkkit as lk
    >>> shaper = lk.move(lk.machine("boatshed-shaper"), [0.3], speed=6.0)
    >>> [arrow.part for arrow in acceleration_polygon(shaper).arrows][:4]
    ['normal', 'normal', 'Coriolis', 'tangential']
    """
    return _Drawing(motion, position, "acceleration").polygon()


class _Drawing:
    """A polygon while it is drawn."""

    def __init__(self, motion, position, kind):
        self.linkage, self.kind, self.step = motion.linkage, kind, 0
        if len(motion.shape) > 1:
            raise LinkageError("a polygon is drawn for one linkage, not for a family")
        n = () if not motion.shape else position
        if not motion.ok[n] or motion.singular[n]:
            why = "stands in a singular position" if motion.ok[n] else "is not assembled"
            raise LinkageError(f"the linkage {why} at position {position}, so there is no polygon to draw")
        self.take = lambda array: complex(np.asarray(array)[n])
        self.motion, self.arrows, self.drawn = motion, [], set()

    def polygon(self):
        """All arrows, group by group."""
        for step, group in enumerate(linkage_groups(self.linkage)):
            self.step = step
            {"RRR": self.joint, "RRP": self.joint, "PRP": self.joint, "RPR": self.slot, "RPP": self.slot}.get(
                group.kind, lambda group: None
            )(group)
            self.images(group)
        points = {p: self.value(self.linkage.carriers[p][-1], self.spot(p)) for p in self.linkage.points}
        return Polygon(self.kind, tuple(self.arrows), points, dict(self.linkage.links))

    def spot(self, point):
        return self.take(self.motion.point(point))

    def value(self, link, spot):
        """The velocity or acceleration of that point of a link which is now at a spot."""
        what = self.motion.velocity_at if self.kind == "velocity" else self.motion.acceleration_at
        return self.take(what(link, spot))

    def joint(self, group):
        """Two ways from known links to the pin between the two new ones; they meet at its value."""
        first, inner, last = group.ties
        spot = self.spot(inner.at)
        ways = [self.way(first, inner.a, spot, inner.at), self.way(last.turned(), inner.b, spot, inner.at)]
        self.close(ways)
        self.drawn.add(inner.at)

    def way(self, tie, link, spot, name):
        """From a known link, `tie.a`, through its pair with the group to the place `spot` on a link of the group."""
        if tie.at in self.linkage.points:
            base = self.spot(tie.at)
            seen = name if self.fixed(tie) else f"{name} to {tie.at}"
            return self.value(tie.a, base), self.turned(tie.b, base, link, spot, seen)
        seen = f"{name} to {tie.a}" if tie.a != self.linkage.fixed else name
        guide = [(self.value(tie.a, spot), f"{name} on {tie.a}", "whole", True)]
        guide += self.carried(tie.b, link, spot, name)
        return 0j, guide + self.slid(tie, spot, seen)

    def carried(self, near, link, spot, name):
        """What an input between two links adds at a spot, where they are not one."""
        more = self.value(link, spot) - self.value(near, spot)
        return [] if link == near else [(more, f"{name} to {near}", "from the input", True)]

    def fixed(self, tie):
        """Whether a pin stands still."""
        return self.linkage.fixed in self.linkage.carriers[tie.at]

    def turned(self, link, base, end, spot, name):
        """From a pin of a link to a place on it, or on another link that an input joins to it."""
        whole = self.value(end, spot) - self.value(link, base)
        what = self.motion.angular_velocity if self.kind == "velocity" else self.motion.angular_acceleration
        turn = 1j * self.take(what(link)) * (spot - base)
        rest = "normal" if self.kind == "acceleration" and end == link else "from the input"
        return [(whole - turn, name, rest, True), (turn, name, self.turning, False)]

    @property
    def turning(self):
        """What the part square to a link is called."""
        return "turning" if self.kind == "velocity" else "tangential"

    def slid(self, tie, spot, name):
        """From the first link of a slide's pairing to the second, at one spot."""
        whole = self.value(tie.b, spot) - self.value(tie.a, spot)
        s = self.linkage.slide(tie.at)
        along = self.take(self.motion.rotation(s.on) * s.direction)
        slip = along * (np.conj(along) * whole).real
        return [(whole - slip, name, "Coriolis", True), (slip, name, "sliding", False)]

    def slot(self, group):
        """Two links that slide on each other, the first pinned to a known one: drawn to its pin, on the second link."""
        first, inner, last = group.ties
        spot = self.spot(first.at)
        name = f"{first.at} on {inner.b}"
        parts = self.carried(first.b, inner.a, spot, first.at) + self.slid(inner, spot, f"{name} to {first.at}")
        ahead = self.value(first.a, spot), parts
        self.close([self.way(last.turned(), inner.b, spot, name), ahead])

    def close(self, ways):
        """Draw two ways that end in one value: what is known of both first, then the two lines that meet."""
        pending = []
        for start, parts in ways:
            for delta, name, part, known in parts:
                if known:
                    self.draw(start, delta, name, part, "known")
                    start += delta
                else:
                    pending.append((start, delta, name, part))
        for given, arrow in zip(("direction", "closing"), pending, strict=True):
            self.draw(*arrow, given)

    def images(self, group):
        """The other points of the new links, and all points of links without a closed form, by the rigid link."""
        for link in group.links:
            if link == self.linkage.fixed:
                self.drawn |= set(self.linkage.links[link])
                continue
            for point in self.linkage.links[link]:
                if point not in self.drawn:
                    self.image(link, point)
                self.drawn.add(point)

    def image(self, link, point):
        """One point of a link by the others: from one that is drawn already, or from the pole."""
        base = next((p for p in self.linkage.links[link] if p in self.drawn), None)
        if base is None:
            self.draw(0j, self.value(link, self.spot(point)), point, "whole", "known")
            return
        start = self.value(link, self.spot(base))
        still = self.linkage.fixed in self.linkage.carriers[base]
        name = point if still else f"{point} to {base}"
        at = start
        for delta, _, part, _ in self.turned(link, self.spot(base), link, self.spot(point), name):
            self.draw(at, delta, name, part, "known")
            at += delta

    def draw(self, start, delta, name, part, given):
        """Add one arrow, unless it is known to be nothing."""
        size = max([abs(a.end - a.start) for a in self.arrows], default=0.0)
        if given == "known" and abs(delta) <= NOTHING * size + 1e-300:
            return
        self.arrows.append(Arrow(start, start + delta, name, part, given, self.step))
