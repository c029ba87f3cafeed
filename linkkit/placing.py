"""Where every link is, for given inputs: the groups of a breakdown placed one after the other, whole arrays at once.

The place of a link is an anchor (a sketch point z0 and where it is now, w0) and a rotation u, a complex number of
modulus 1: the sketch point z of that link is now at ``w0 + u (z - z0)``.
"""

from __future__ import annotations

from functools import cached_property

import numpy as np

from . import dyads
from .breakdown import linkage_groups


class _Later(dict):
    """A dict whose values may be worked out when they are first asked for."""

    def __init__(self):
        super().__init__()
        self.waiting = {}

    def put(self, key, work):
        """Give the value of a key as a function without arguments."""
        self.pop(key, None)
        self.waiting[key] = work

    def __missing__(self, key):
        self[key] = value = self.waiting.pop(key)()
        return value

    def values(self):
        """All values, worked out."""
        return [self[key] for key in (*self, *self.waiting)]


STILL = 1.0  # the rotation of the fixed link


class Places:
    """The places of all links at the given inputs (arrays that broadcast).

    Parameters
    ----------
    linkage : Linkage
    inputs : dict of str to float array
        Radians or metres, for each input by name.
    flips : dict of int to float array
        For a group by its number, the sign by which its sketched root is taken at each position.
    upto : int, optional
        Place only so many groups.
    """

    def __init__(self, linkage, inputs, flips=None, upto=None):
        self.linkage, self.inputs, self.flips = linkage, inputs, flips or {}
        self.u = _Later()
        self.anchor = {linkage.fixed: (0.0, 0.0)}
        self.inside = {}  # link: (u, z0, w0) in the frame of the first link of its body
        self.pins, self.limits = {}, {}
        self.found = []  # for each group, an array that is nan where it cannot be placed
        for number, group in enumerate(linkage_groups(linkage)[:upto]):
            for body in group.bodies:
                if len(body) > 1:
                    self._join(body)
            PLACE[group.kind](self, group, number)

    def carry(self, link, z):
        """Where the sketch point z of a link is now."""
        z0, w0 = self.anchor[link]
        return w0 + self.u[link] * (z - z0)

    def at(self, link, name):
        """Where a point is now, as that link carries it."""
        if name not in self.pins:
            self.pins[name] = self.carry(link, self.linkage.shape(link, name))
        return self.pins[name]

    def set_body(self, body, z0, w0, u):
        """Place a body by one point of its first link's frame and the rotation of that link (or a function for it)."""
        self.anchor[body[0]] = (z0, w0)
        if callable(u):
            self.u.put(body[0], u)
        else:
            self.u[body[0]] = u
        for link in body[1:]:
            u = self.u[body[0]]
            turn, start, spot = self.inside[link]
            self.u[link] = turn if u is STILL else u * turn
            self.anchor[link] = (start, w0 + u * (spot - z0))

    def local(self, link, z):
        """The sketch point z of a link in the frame of the first link of its body."""
        if link not in self.inside:
            return z
        u, z0, w0 = self.inside[link]
        return w0 + u * (z - z0)

    def unlocal(self, link, z):
        """The point z of the body's frame in the sketch frame of one of its links."""
        if link not in self.inside:
            return z
        u, z0, w0 = self.inside[link]
        return z0 + (z - w0) / u

    def turn_in_body(self, link):
        """The rotation of a link against the first link of its body."""
        return self.inside[link][0] if link in self.inside else 1.0

    def side(self, group, number):
        """The root of a group's closed form at each position."""
        return group.side * self.flips[number] if number in self.flips else group.side

    def _join(self, body):
        """Work out how the links of a body stand to its first one, from the inputs between them."""
        for i, near, far in _order(self.linkage, body):
            self.inside[far] = self._beyond(near, *self._driven(i, near))

    def _driven(self, i, near):
        """The rotation and the pair of points by which the far link of an input stands to the near one."""
        value = self.inputs[i.name]
        reference, driven = ends(self.linkage, i)
        if i.kind == "angle":
            turn = dyads.turn(value) * self.linkage.heading(driven).conjugate()
            far = driven if near == reference else reference
            z, w = self.linkage.shape(far, i.at), self.linkage.shape(near, i.at)
            return (turn if near == reference else np.conj(turn)), z, w
        slide = self.linkage.slide(i.at)
        along = slide.direction * (value - sketched(self.linkage, i))
        return 1.0, slide.through, slide.through + (along if near == slide.on else -along)

    def _beyond(self, near, u, z0, w0):
        if near not in self.inside:
            return u, z0, w0
        return u * self.turn_in_body(near), z0, self.local(near, w0)


def _order(linkage, body):
    """The inputs that join a body, each with its link nearer to the body's first link and the one beyond."""
    kept = linkage.__dict__.setdefault("_orders", {})
    if body not in kept:
        placed, kept[body] = {body[0]}, []
        while len(placed) < len(body):
            for i in linkage.inputs:
                near = [k for k in i.links if k in placed]
                if len(near) == 1 and set(i.links) <= set(body):
                    far = next(k for k in i.links if k not in placed)
                    kept[body].append((i, near[0], far))
                    placed.add(far)
    return kept[body]


PIECE = 4096  # positions worked on at once, so that what is in hand stays in the processor's cache


class Pieces:
    """The places over a long cycle, worked out piece by piece; the attributes of `Places`, joined when asked for."""

    def __init__(self, linkage, inputs, flips):
        self.linkage, self.inputs = linkage, inputs
        size = max(np.size(v) for v in inputs.values())
        cut = lambda v, n: v[n : n + PIECE] if np.ndim(v) else v  # noqa: E731
        self.parts = [
            Places(linkage, {k: cut(v, n) for k, v in inputs.items()}, {k: cut(v, n) for k, v in flips.items()})
            for n in range(0, size, PIECE)
        ]
        self.u, self.anchor = _Later(), _Later()
        for link in linkage.links:
            self.u.put(link, lambda link=link: self._whole(lambda part: part.u[link]))
            self.anchor.put(link, lambda link=link: self._whole_anchor(link))
        self.pins = {}

    @cached_property
    def found(self):
        """For each group, an array that is nan where it cannot be placed."""
        return [self._whole(lambda part, n=n: part.found[n]) for n in range(len(self.parts[0].found))]

    def _whole(self, of):
        first, *rest = [of(part) for part in self.parts]
        return np.concatenate([first, *rest]) if np.ndim(first) else first

    def _whole_anchor(self, link):
        z = [part.anchor[link][0] for part in self.parts]
        z = np.concatenate(z) if np.ndim(z[0]) else z[0]
        return z, self._whole(lambda part: part.anchor[link][1])

    def at(self, link, name):
        """Where a point is, as that link carries it."""
        if name not in self.pins:
            self.pins[name] = self._whole(lambda part: part.at(link, name))
        return self.pins[name]

    carry = Places.carry


def places_at(linkage, inputs, flips=None):
    """The places of all links at the given inputs, in pieces where there are very many positions."""
    if max(map(np.size, inputs.values())) > PIECE + PIECE // 2 and _even(inputs) and _closed(linkage):
        return Pieces(linkage, inputs, flips or {})
    return Places(linkage, inputs, flips)


def _even(inputs):
    """Whether all inputs that change have one axis, of one length."""
    return len({np.shape(v) for v in inputs.values() if np.ndim(v)}) == 1 and all(
        np.ndim(v) < 2 for v in inputs.values()
    )


def _closed(linkage):
    plain = all(np.ndim(z) == 0 for z in linkage.points.values())
    return plain and all(group.kind != "newton" for group in linkage_groups(linkage))


def ends(linkage, i):
    """The reference link and the driven link of an input: the fixed link is never the driven one."""
    return i.links[::-1] if i.links[1] == linkage.fixed else i.links


def sketched(linkage, i):
    """The value of an input as the linkage is sketched: radians or metres."""
    if i.kind == "angle":
        return np.angle(linkage.heading(ends(linkage, i)[1]))
    slide = linkage.slide(i.at)
    return dyads.dot(np.asarray(slide.direction), _mark(linkage, slide, slide.block) - _mark(linkage, slide, slide.on))[
        ()
    ]


def _mark(linkage, slide, link):
    """The point from which distances along a slide are measured on a link: its first one."""
    carried = linkage.links[link]
    return linkage.shape(link, carried[0]) if carried else slide.through


def _driven_body(places, group, _):
    places.set_body(group.bodies[0], 0.0, 0.0, STILL)


def _rrr(places, group, number):
    (ta, tb, tc), (one, two) = group.ties, group.bodies
    a, c = places.at(ta.a, ta.at), places.at(tc.b, tc.at)
    za, ab, ab2, yc, cb, cb2 = _bars(places, group, number)
    b = dyads.rrr(a, c, ab2, cb2, places.side(group, number))
    places.limits[number] = dyads.rrr_gap, (a, c, ab2, cb2)
    places.pins[tb.at] = b
    places.found.append(b)
    places.set_body(one, za, a, lambda: (b - a) * (1 / ab))
    places.set_body(two, yc, c, lambda: (b - c) * (1 / cb))


def _bars(places, group, number):
    """The first points of the two bars of RRR, their vectors to the joint and the squares of their lengths."""
    kept = places.linkage.__dict__.setdefault("_bars", {})
    if number in kept:
        return kept[number]
    ta, tb, tc = group.ties
    za, zb = _body_point(places, ta.b, ta.at), _body_point(places, tb.a, tb.at)
    yb, yc = _body_point(places, tb.b, tb.at), _body_point(places, tc.a, tc.at)
    ab, cb = np.asarray(zb - za), np.asarray(yb - yc)
    bars = za, ab, dyads.square(ab), yc, cb, dyads.square(cb)
    bars = tuple(x if np.ndim(x) else np.asarray(x).item() for x in bars)
    if all(len(body) == 1 for body in group.bodies):  # no input inside changes them
        kept[number] = bars
    return bars


def _rrp(places, group, number):
    (ta, tb, tc), (one, two) = group.ties, group.bodies
    slide = places.linkage.slide(tc.at)
    a = places.at(ta.a, ta.at)
    za, zb = _body_point(places, ta.b, ta.at), _body_point(places, tb.a, tb.at)
    yb = _body_point(places, tb.b, tb.at)
    u = places.u[tc.b]
    start = places.carry(tc.b, places.unlocal(tc.a, yb))
    ab, along = zb - za, u * slide.direction
    ab2 = dyads.square(np.asarray(ab))
    b = start + along * dyads.rrp(a, start, along, ab2, places.side(group, number))
    places.limits[number] = dyads.rrp_gap, (a, start, along, ab2)
    places.pins[tb.at] = b
    places.found.append(b)
    places.set_body(one, za, a, lambda: (b - a) * (1 / ab))
    places.set_body(two, yb, b, u / places.turn_in_body(tc.a))


def _rpr(places, group, number):
    (ta, tb, tc), (one, two) = group.ties, group.bodies
    slide = places.linkage.slide(tb.at)
    a, c = places.at(ta.a, ta.at), places.at(tc.b, tc.at)
    za, yc = _body_point(places, ta.b, ta.at), _body_point(places, tc.a, tc.at)
    sketch = np.conj(slide.direction) * (places.unlocal(tb.b, yc) - places.unlocal(tb.a, za))
    along, _ = dyads.rpr(a, c, sketch.imag, places.side(group, number))
    places.limits[number] = dyads.rpr_gap, (a, c, sketch.imag, dyads.square(np.asarray(sketch)))
    u = along * np.conj(slide.direction)
    places.found.append(u)
    places.set_body(one, za, a, u / places.turn_in_body(tb.a))
    places.set_body(two, yc, c, u / places.turn_in_body(tb.b))


def _prp(places, group, _):
    (ta, tb, tc), (one, two) = group.ties, group.bodies
    za, zc = _body_point(places, tb.a, tb.at), _body_point(places, tb.b, tb.at)
    u1, u2 = places.u[ta.a], places.u[tc.b]
    along1 = np.asarray(u1 * places.linkage.slide(ta.at).direction)
    along2 = np.asarray(u2 * places.linkage.slide(tc.at).direction)
    start1 = places.carry(ta.a, places.unlocal(ta.b, za))
    start2 = places.carry(tc.b, places.unlocal(tc.a, zc))
    s1, _ = dyads.prp(start1, along1, start2, along2)
    b = start1 + along1 * s1
    places.pins[tb.at] = b
    places.found.append(b)
    places.set_body(one, za, b, u1 / places.turn_in_body(ta.b))
    places.set_body(two, zc, b, u2 / places.turn_in_body(tc.a))


def _rpp(places, group, _):
    (ta, tb, tc), (one, two) = group.ties, group.bodies
    inner, outer = (places.linkage.slide(t.at) for t in (tb, tc))
    a, za, u = places.at(ta.a, ta.at), _body_point(places, ta.b, ta.at), places.u[tc.b]
    u2 = u / places.turn_in_body(tc.a)
    u1 = u2 * places.turn_in_body(tb.b) / places.turn_in_body(tb.a)
    places.set_body(one, za, a, u1)
    z = outer.through  # any point of the second body, in the sketch frame of the link that slides
    y = places.local(tc.a, z)
    unslid = places.carry(tb.a, places.unlocal(tb.b, y))
    start, along = places.carry(tc.b, z), np.asarray(u * outer.direction)
    _, s = dyads.rpp(unslid, start, np.asarray(places.u[tb.a] * inner.direction), along)
    spot = start + along * s
    places.found.append(spot)
    places.set_body(two, y, spot, u2)


def _carried(places, group, _):
    """A redundant body, placed by its first two pairings; the residual shows where the others do not fit."""
    (body,), slides = group.bodies, [t for t in group.ties if t.at not in places.linkage.points]
    pins = [t for t in group.ties if t.at in places.linkage.points]
    if len(pins) > 1:
        (p, q), (zp, zq) = pins[:2], (_body_point(places, t.b, t.at) for t in pins[:2])
        reach = (places.carry(q.a, places.linkage.points[q.at]) - places.at(p.a, p.at)) / (zq - zp)
        places.set_body(body, zp, places.at(p.a, p.at), reach / abs(reach))
    elif pins:
        p, s = pins[0], slides[0]
        turn = places.u[s.a] / places.turn_in_body(s.b)
        places.set_body(body, _body_point(places, p.b, p.at), places.at(p.a, p.at), turn)
    else:
        _between_slides(places, body, slides)
    places.found.append(places.carry(body[0], 0j) + places.u[body[0]])


def _between_slides(places, body, slides):
    one, two = slides[:2]
    d1, d2 = (np.asarray(places.u[t.a] * places.linkage.slide(t.at).direction) for t in (one, two))
    z = places.linkage.slide(one.at).through
    start1 = places.carry(one.a, z)
    start2 = places.carry(two.a, places.unlocal(two.b, places.local(one.b, z)))
    s, _ = dyads.prp(start1, d1, start2, d2)
    spot = start1 + d1 * np.where(np.abs(dyads.cross(d1, d2)) < 1e-9, 0.0, s)
    places.set_body(body, places.local(one.b, z), spot, places.u[one.a] / places.turn_in_body(one.b))


def _idle(places, group, _):
    """A link with a freedom of its own is drawn as if it were fastened to the link that carries it."""
    (body,), tie = group.bodies, group.ties[0]
    z = places.linkage.points.get(tie.at)
    z = places.linkage.slide(tie.at).through if z is None else z
    places.set_body(body, places.local(tie.b, z), places.carry(tie.a, z), places.u[tie.a] / places.turn_in_body(tie.b))


def _newton(places, group, _):
    from .newton import place

    place(places, group)
    places.found.append(places.anchor[group.links[0]][1])


def _body_point(places, link, name):
    return places.local(link, places.linkage.shape(link, name))


PLACE = {
    "driven": _driven_body, "RRR": _rrr, "RRP": _rrp, "RPR": _rpr, "PRP": _prp, "RPP": _rpp,
    "carried": _carried, "idle": _idle, "newton": _newton,
}  # fmt: skip
