"""The graphical symbols of kinematic diagrams, each a short tuple of shapes.

After ISO 3952-1 (Kinematic diagrams: graphical symbols, part 1) as it is generally described in textbooks;
the text of the standard itself was not at hand. `px` is everywhere the machine units in one pixel, because a
symbol has a size on paper and not in the machine.
"""

from __future__ import annotations

import cmath
import math

from .scene import Arc, Circle, Path, Text

PIN_PX = 5.5
STAND_PX = 19.0
BLOCK_PX = (30.0, 18.0)
DIMENSION = 0.85  # size of the text of a dimension


def pin(at, px, *, links=2, role="pin", name="") -> tuple:
    """A turning pair: an open circle at which lines stop; one more ring for each further link on it."""
    rings = (Circle(at, (PIN_PX + 3.5 * k) * px, role, name=name if k == 0 else "") for k in range(max(1, links - 1)))
    return tuple(rings)[::-1]


def dot(at, px, *, name="") -> tuple:
    """A point of a link that is no pin."""
    return (Circle(at, 3.2 * px, "point", fill="ink", name=name),)


def stand(at, px, *, down=-1j) -> tuple:
    """A fixed pivot's support: two legs on a hatched base line; `down` points away from the pin."""
    side, foot = down * 1j, at + STAND_PX * px * down
    legs = Path((foot + 11 * px * side, at, foot - 11 * px * side), "fixed", "ground")
    return (legs, *ground_line(foot - 17 * px * side, foot + 17 * px * side, px, far=down))


def ground_line(start, end, px, *, far) -> tuple:
    """A line of the fixed link, hatched on the side to which `far` points."""
    along, length = _unit(end - start), abs(end - start)
    strokes = max(3, round(length / (7.5 * px)))
    lean = 6.5 * px * (far - along) / abs(far - along) * 1.2
    feet = (start + along * length * (k + 0.75) / strokes for k in range(strokes))
    hatch = tuple(Path((f, f + lean), "hatch", "ground") for f in feet)
    return (Path((start, end), "fixed", "ground"), *hatch)


def block(at, along, px, *, role="link", name="", layer="link") -> tuple:
    """A sliding block: a rectangle along its guide."""
    a, b = BLOCK_PX[0] / 2 * px * along, BLOCK_PX[1] / 2 * px * along * 1j
    return (
        Path(
            (at - a - b, at + a - b, at + a + b, at - a + b),
            role,
            layer,
            closed=True,
            fill="paper",
            name=name,
        ),
    )


def guide(start, end, px, *, far) -> tuple:
    """A fixed guide on which a block slides: it touches the block on one side and is hatched on the other."""
    shift = BLOCK_PX[1] / 2 * px * far
    return ground_line(start + shift, end + shift, px, far=far)


def bar(points, *, role="link", name="") -> tuple:
    """A link with its pins in line: one heavy line through them all."""
    far = max(points, key=lambda z: abs(z - points[0]))
    along = sorted(points, key=lambda z: ((z - points[0]) * (far - points[0]).conjugate()).real)
    return (Path((along[0], along[-1]), role, name=name),)


def plate(points, *, role="link", name="") -> tuple:
    """A rigid link with three or more pins not in line: a lightly filled polygon."""
    return (Path(tuple(hull(points)), role, closed=True, fill="tint", name=name),)


def corner(at, one, other, px, *, role="link") -> tuple:
    """Two lines rigidly joined: the corner between them filled. `one` and `other` are directions."""
    r = 11 * px
    return (Path((at, at + r * _unit(one), at + r * _unit(other)), role, closed=True, fill="ink"),)


def ram(foot, piston, along, length, px, *, role="link") -> tuple:
    """A ram's barrel from its foot to `length` along it (closed round the rod), and the piston inside it.

    Returns the shapes of the barrel's link and of the rod's link, apart, since they move apart.
    """
    half = 8.5 * px * along * 1j
    back, front = foot + 7 * px * along, foot + length * along
    barrel = Path(
        (front + 0.35 * half, front + half, back + half, back - half, front - half, front - 0.35 * half),
        "link",
    )
    neck = Path((foot, back), "link")
    return (neck, barrel), (Path((piston + 0.85 * half, piston - 0.85 * half), role),)


def arrow(start, end, px, *, role="motion", both=False, layer="motion", name="") -> tuple:
    """A straight arrow; `both` puts a head on each end, for a motion to and fro."""
    way = _unit(end - start)
    heads = (head(end, way, px, role, layer), *((head(start, -way, px, role, layer),) if both else ()))
    return (Path((start, end), role, layer, name=name), *heads)


def turn_arrow(centre, radius, start, sweep, px, *, role="motion", both=False, layer="motion") -> tuple:
    """An arrow round a centre from the angle `start` through `sweep`; `both` for an oscillation."""
    heads = [_arc_head(centre, radius, start + sweep, math.copysign(1, sweep), px, role, layer)]
    if both:
        heads.append(_arc_head(centre, radius, start, -math.copysign(1, sweep), px, role, layer))
    return (Arc(centre, radius, start, sweep, role, layer), *heads)


def head(tip, way, px, role="motion", layer="motion") -> Path:
    """An arrow head with its point at `tip`."""
    back, side = tip - 8 * px * way, 2.8 * px * way * 1j
    return Path((tip, back + side, back - side), role, layer, closed=True, fill="ink")


def _arc_head(centre, radius, angle, sense, px, role, layer):
    lag = sense * 4 * px / radius  # the head is straight, the arc is not: aim it along the chord that it covers
    way = 1j * sense * cmath.exp(1j * (angle - lag))
    return head(centre + cmath.rect(radius, angle), way, px, role, layer)


def dimension(p, q, text, px, *, offset=24.0, slide=0.0) -> tuple:
    """A length dimensioned: extension lines, a line with two heads, `offset` pixels to the left, and its text.

    The text stands at the middle, or `slide` pixels further on.
    """
    way = _unit(q - p)
    shift = offset * px * way * 1j
    extend = tuple(Path((z + 0.3 * shift, z + 1.2 * shift), "dimension", "dimension") for z in (p, q))
    angle = cmath.phase(way)
    readable = angle if -math.pi / 2 < angle <= math.pi / 2 else angle + math.pi
    middle = (p + q) / 2 + shift + math.copysign(9 * px, offset) * way * 1j + slide * px * way
    words = Text(middle, text, layer="dimension", size=DIMENSION, turn=readable)
    return (*extend, *arrow(p + shift, q + shift, px, role="dimension", both=True, layer="dimension"), words)


def angle_mark(at, start, sweep, text, px, *, radius=34.0, where=None) -> tuple:
    """An angle dimensioned: its base line, an arc with a head, and the text outside the arc, at its middle or `where`."""
    r, middle = radius * px, start + sweep / 2 if where is None else where
    base = Path((at, at + cmath.rect(1.3 * r, start)), "dimension", "dimension")
    arc = turn_arrow(at, r, start, sweep, px, role="dimension", layer="dimension") if abs(sweep) * radius > 12 else ()
    anchor = _anchor(middle)
    words = Text(
        at + cmath.rect(r + (16 if anchor == "middle" else 8) * px, middle),
        text,
        layer="dimension",
        size=DIMENSION,
        anchor=anchor,
    )
    return (base, *arc, words)


def scale_bar(left, length, text, px) -> tuple:
    """A bar of a round length with its text above it, for reading sizes off the picture."""
    tick = 4 * px * 1j
    ends = tuple(Path((z - tick, z + tick), "dimension", "dimension") for z in (left, left + length))
    return (
        Path((left, left + length), "dimension", "dimension"),
        *ends,
        Text(left + length / 2 + 11j * px, text, "note", "dimension", size=0.85),
    )


def hull(points) -> list:
    """The corners of the convex hull of some points, anticlockwise (Andrew's monotone chain, 1979)."""
    spots = sorted(set(points), key=lambda z: (z.real, z.imag))
    if len(spots) < 3:
        return spots
    return _chain(spots)[:-1] + _chain(spots[::-1])[:-1]


def _chain(spots):
    chain = []
    for z in spots:
        while len(chain) > 1 and ((chain[-1] - chain[-2]).conjugate() * (z - chain[-1])).imag <= 0:
            chain.pop()
        chain.append(z)
    return chain


def in_line(points, tolerance=1e-6) -> bool:
    """Whether all points lie on one straight line, to a fraction of their greatest distance."""
    points = list(points)
    far = max(points, key=lambda z: abs(z - points[0]))
    span = abs(far - points[0])
    return all(abs(((z - points[0]) * (far - points[0]).conjugate()).imag) <= tolerance * span * span for z in points)


def _unit(z):
    return z / abs(z) if z else 1 + 0j


def _anchor(angle):
    c = math.cos(angle)
    return "start" if c > 0.4 else "end" if c < -0.4 else "middle"
