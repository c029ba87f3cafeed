"""The stages of a position diagram: what the hand draws for each group of the breakdown, in shapes and in words."""

from __future__ import annotations

import cmath
import math

import numpy as np

from . import crossings, symbols
from .construction_words import arc_words, crossing_words, size
from .diagram import away
from .extras import fixed_pins, paths
from .scene import Arc, Circle, Path
from .skeleton import roles, slidings
from .units import direction_text
from .words import listed

SUBSCRIPTS = str.maketrans("0123456789", "₀₁₂₃₄₅₆₇₈₉")


class Board:
    """The drawing board: the machine, the positions to be drawn, the points found so far at each of them."""

    def __init__(self, cycle, moments, paper):
        self.cycle, self.moments, self.paper, self.linkage = cycle, moments, paper, cycle.linkage
        self.px, self.scale = paper.px, paper.scale
        self.found = [{} for _ in moments]
        self.sliding = slidings(cycle)

    @property
    def several(self):
        """Whether more than one position is drawn."""
        return len(self.moments) > 1

    def holds(self, z):
        """Whether a point lies on the paper."""
        b = self.paper.bounds.grown(-12 * self.px)
        return b.left < z.real < b.right and b.bottom < z.imag < b.top

    def true(self, k, link, z):
        """Where the sketch point z of a link lies at the k-th position drawn, by the solver."""
        return self.cycle.now(link, z, self.moments[k])[0]

    def turn(self, k, link):
        """The rotation of a link there."""
        return self.cycle.now(link, 0j, self.moments[k])[1]

    def name(self, p, k):
        """The name of a point at a position: numbered if there are several, unless it stays where it is."""
        fixed = p in self.linkage.links[self.linkage.fixed]
        return p if fixed or not self.several else f"{p}{k + 1}".translate(SUBSCRIPTS)

    def tell(self, names):
        """The points of those names found at every position, under their names in the drawing."""
        return {self.name(p, k): here[p] for k, here in enumerate(self.found) for p in names if p in here}


def begin(board):
    """Fixed pivots and fixed guides."""
    pins = fixed_pins(board.linkage)
    for here in board.found:
        here.update({p: board.linkage.points[p] for p in board.linkage.links[board.linkage.fixed]})
    shapes = [s for p in pins for s in (*_stand(board, p), *_mark(board, board.linkage.points[p]))]
    guides = [s for s in board.sliding.values() if s.slide.on == board.linkage.fixed]
    for s in guides:
        ends = s.guide(extra=30 * board.px)
        shapes.append(Path(ends, "construction", "construction"))
    words = f"Draw the fixed pivot{'s' * (len(pins) > 1)} {listed(pins)}" if pins else "Begin with the fixed link"
    if len(pins) == 2:
        words += f", {size(board.linkage.length(*pins), board.scale)} apart"
    words += f", and the line of the guide {guides[0].slide.name}" if guides else ""
    return words + ".", tuple(shapes), board.tell(pins)


def _stand(board, p):
    return symbols.stand(board.linkage.points[p], board.px, down=away(board.linkage, p, board.px))


def of_group(board, group):
    """The stages that place one group: the crossing of two lines or arcs, then the further points of its links."""
    if not group.links or group.links == (board.linkage.fixed,):
        return
    stage = {"driven": _driven, "RRR": _two_arcs, "RRP": _arc_and_line, "RPR": _through_the_pin}.get(group.kind, _given)
    made = stage(board, group)
    if made is not None:
        yield made
    yield from _further_points(board, group)


def _driven(board, group):
    """A crank: its circle, and its pin at the angle given at each position."""
    moving = [k for k in group.links if k != board.linkage.fixed]
    if not moving:
        return None
    link = moving[0]
    pivot = next((p for p in board.linkage.links[link] if p in board.found[0]), None)
    outer = [p for p in board.linkage.links[link] if p != pivot]
    if pivot is None or not outer:
        return _given(board, group)
    p, centre = outer[0], board.linkage.points[pivot]
    radius = board.linkage.length(pivot, p)
    shapes = [_course(board, link, p, centre, radius)]
    for k, here in enumerate(board.found):
        here[p] = board.true(k, link, board.linkage.points[p])
        shapes += [Path((centre, here[p]), "input" if not board.several else "ghost", "link"), *_mark(board, here[p])]
    course = "circle" if isinstance(shapes[0], Circle) else "arc"
    words = f"Draw the {course} of {link}: centre {pivot}, radius {pivot}{p} = {size(radius, board.scale)}. "
    angle = direction_text(cmath.phase(board.found[0][p] - centre))
    places = f"{len(board.moments)} places of {p} on it and number them" if board.several else f"{p} on it at {angle}"
    words += f"Mark {places}."
    return words, tuple(shapes), board.tell([p])


def _course(board, link, p, centre, radius):
    """The circle of a crank, or the part of it that a driven link swings through."""
    seen = board.cycle.point(p)[board.cycle.ok] - centre
    if board.cycle.goes_round(link):
        return Circle(centre, radius, "construction", "construction", fill="")
    angle = np.unwrap(np.angle(seen))
    more = min(0.1, 16 * board.px / radius)
    low, high = float(angle.min()) - more, float(angle.max()) + more
    return Arc(centre, radius, low, min(high - low, 2 * math.pi))


def _two_arcs(board, group):
    """Two bars between known pins: an arc round each."""
    a, b, c = (tie.at for tie in group.ties)
    shapes, refused = [], {}
    for k in range(len(board.moments)):
        spots = [_spot(board, k, tie) for tie in group.ties]
        r, q = _span(board, k, group, 0), _span(board, k, group, 1)
        found = crossings.circles(spots[0], r, spots[2], q)
        shapes += _cross(board, k, b, found, spots[1], refused, [(spots[0], r), (spots[2], q)])
    lengths = [(a, b, _span(board, 0, group, 0)), (c, b, _span(board, 0, group, 1))]
    words = " ".join(arc_words(board, *one) for one in lengths) + " " + crossing_words(board, b, refused)
    return words, tuple(shapes), board.tell([b]) | refused


def _arc_and_line(board, group):
    """A bar from a known pin to a block on a known line: the arc meets the line of the pin."""
    a, b, slide = (tie.at for tie in group.ties)
    s, shapes, refused = board.linkage.slide(slide), [], {}
    carrier = group.ties[2].b
    rigid = b in board.linkage.links[s.block] or b in board.linkage.links[s.on]  # else an input moves it off the line
    for k in range(len(board.moments)):
        spots = [_spot(board, k, tie) for tie in group.ties[:2]]
        r = _span(board, k, group, 0)
        way = board.turn(k, carrier) * s.direction
        start = board.true(k, carrier, board.linkage.points[b]) if rigid else spots[1]
        found = crossings.line_circle(start, way, spots[0], r)
        half = 30 * board.px * way
        shapes += [Path((spots[1] - half, spots[1] + half), "construction", "construction")]
        shapes += _cross(board, k, b, found, spots[1], refused, [(spots[0], r)])
    words = arc_words(board, a, b, _span(board, 0, group, 0))
    line = f"the line of {slide}" if rigid else f"a parallel to {slide} at the distance that the input gives it"
    words += f" {b} must lie on {line} too: draw that line. " + crossing_words(board, b, refused)
    return words, tuple(shapes), board.tell([b]) | refused


def _through_the_pin(board, group):
    """A guide that turns about one pin and whose block turns about another: the line from the one past the other."""
    a, slide, c = (tie.at for tie in group.ties)
    shapes = []
    for k in range(len(board.moments)):
        p, q = (_spot(board, k, tie) for tie in (group.ties[0], group.ties[2]))
        s = board.sliding[slide]
        ends = [board.true(k, s.slide.on, z) for z in s.guide(extra=20 * board.px)]
        shapes += [Path((ends[0], ends[1]), "chosen" if not board.several else "construction", "construction")]
        shapes += [Path((p, q), "construction", "construction")]
    s = board.linkage.slide(slide)
    pivot = c if s.on in board.linkage.carriers.get(c, ()) else a
    off = abs(((board.linkage.points[pivot] - s.through) * np.conj(s.direction)).imag)
    passes = f"through {pivot}" if off < 1e-9 else f"{size(off, board.scale)} from {pivot}"
    words = f"The line of {slide} passes {passes} and takes the block at {a if pivot == c else c}: draw it."
    return words, tuple(shapes), {}


def _given(board, group):
    """What is not built from one crossing: its pins are taken from the calculation."""
    names = [p for k in group.links for p in board.linkage.links[k] if p not in board.found[0]]
    names = list(dict.fromkeys(names))
    if not names:
        return None
    shapes = []
    for k, here in enumerate(board.found):
        for p in names:
            here[p] = board.true(k, board.linkage.carriers[p][0], board.linkage.points[p])
            shapes += _mark(board, here[p])
    links = " and ".join(group.links)
    return f"Mark {', '.join(names)} of {links} where the calculation puts them.", tuple(shapes), board.tell(names)


def _further_points(board, group):
    """Points of the links just placed that no crossing has found: by their distances from two known points."""
    for link in group.links:
        carried = board.linkage.links[link]
        for p in (p for p in carried if p not in board.found[0]):
            known = [q for q in carried if q in board.found[0]][:2]
            shapes = []
            for k, here in enumerate(board.found):
                here[p] = board.true(k, link, board.linkage.points[p])
                shapes += [s for q in known for s in _short_arc(board, here[q], here[p])] + _mark(board, here[p])
            far = " and ".join(f"{size(board.linkage.length(p, q), board.scale)} from {q}" for q in known)
            yield f"Mark {p} on {link}{', ' + far if far else ''}.", tuple(shapes), board.tell([p])


def finish(board, points):
    """The links drawn in, and paths through the numbered places of points."""
    shapes, linkage = [], board.linkage
    drawn = {k: "input" for k, role in roles(linkage).items() if role == "input" and not board.several}
    play = dict.fromkeys(linkage.links, "ghost" if board.several else "link") | drawn
    for here in board.found:
        for link in linkage.moving:
            spots = [here[p] for p in linkage.links[link] if p in here]
            if len(spots) > 1:
                shapes.append(Path(tuple(spots), play[link], "link", closed=len(spots) > 2))
    shapes += paths(board, points)
    words = "Join the pins of each link" + (
        f", and draw the path of {' and '.join(points)} through its places." if points else "."
    )
    return words, tuple(shapes), {}


def _spot(board, k, tie):
    """Where a pin of the group lies: as found on the board, else by calculation."""
    p = tie.at
    link = tie.a if p in board.linkage.links[tie.a] else tie.b
    return board.found[k].get(p, board.true(k, link, board.linkage.points[p]))


def _span(board, k, group, n):
    """The length of the n-th bar of a group: of its link, or of the body that an input holds together."""
    p, q = group.ties[n].at, group.ties[n + 1].at
    if any({p, q} <= set(board.linkage.links[link]) for link in group.links):
        return board.linkage.length(p, q)
    ends = [
        board.true(k, tie.b if n == i else tie.a, board.linkage.points[tie.at])
        for i, tie in enumerate(group.ties[n : n + 2], n)
    ]
    return abs(ends[1] - ends[0])


def _cross(board, k, p, found, true, refused, arcs):
    """The arcs, the crossing chosen (the one on the circuit of the motion) and the one refused."""
    chosen = min(found, key=lambda z: abs(z - true), default=true)
    board.found[k][p] = chosen
    shapes = [s for centre, _ in arcs for s in _short_arc(board, centre, chosen)] + _mark(board, chosen)
    other = next((z for z in found if z is not chosen and abs(z - chosen) > 4 * board.px), None)
    if not board.several and other is not None and board.holds(other):
        refused[f"{p}′"] = other
        shapes += [s for centre, _ in arcs for s in _short_arc(board, centre, other)] + _struck(board, other)
        shapes += [Circle(chosen, 9 * board.px, "chosen", "construction", fill="")]
    return shapes


def _short_arc(board, centre, at):
    """The part of a circle round `centre` that the hand draws: a little to both sides of a point."""
    r = abs(at - centre)
    half = min(0.5, 34 * board.px / r) if not board.several else min(0.3, 16 * board.px / r)
    return [Arc(centre, r, cmath.phase(at - centre) - half, 2 * half)] if r > board.px else []


def _mark(board, z):
    return [Circle(z, 2.4 * board.px, "point", "pin", fill="paper")]


def _struck(board, z):
    arm = 7 * board.px * cmath.exp(0.25j * math.pi)
    return [Path((z - arm * d, z + arm * d), "refused", "construction") for d in (1, 1j)]
