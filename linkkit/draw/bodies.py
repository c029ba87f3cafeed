"""Free-body pictures: one link by itself with every force and moment that acts on it, to a scale of forces."""

from __future__ import annotations

import math

import numpy as np

from ..errors import LinkageError
from . import labels, symbols
from .cycle import cycle_of
from .diagram import Sheet
from .scene import Bounds, Group, Scene, Text, bounds_of
from .skeleton import body_spots, link_groups, slidings
from .units import place_text, round_length, significant
from .words import moment_words

BOX = (420.0, 300.0)
EDGE_PX = 150.0
NAME = 0.85  # size of the names of forces
NAME_PX = 200.0  # beside the body, where the names of forces stand
LONGEST_PX, SHORTEST_PX, SIDE_PX = 105.0, 16.0, 7.0
MARGIN_PX, FOOT_PX, NARROWEST_PX = 14.0, 30.0, 240.0
NOTHING = 1e-9  # of the greatest force or moment: rounding


def free_body_picture(forces, link, at=0) -> Scene:
    """One link at one position with every force and moment on it; the longest arrow is the greatest force.

    Parameters
    ----------
    forces : Forces
        As made by ``lk.forces``.
    link : str
    at : int
        The position, an index into the cycle.

    Examples
    --------
    >>> import linkkit as lk
    >>> from linkkit.draw import free_body_picture
    >>> engine = lk.move(lk.slider_crank(0.05, 0.2), speed=100.0)
    >>> found = lk.forces(engine, masses={"slider": 0.5})
    >>> free_body_picture(found, "rod", 30).title
    'Free body: rod, input at 30°'
    """
    cycle = cycle_of(forces.motion, at)
    acting = _cleaned(cycle, [_in_place(cycle, link, *a) for a in _acting(forces.free_body(link), len(cycle.ok), at)])
    sheet = _sheet(cycle, link, acting)
    body = tuple(g for g in link_groups(cycle, sheet.px, sheet.sliding) if g.link == link)
    ends = _ends(sheet, link, acting)
    shapes = body + tuple(_pins(sheet, link)) + tuple(_arrows(sheet, acting, ends))
    shapes += tuple(_labels(sheet, shapes, acting, ends))
    bounds = _trimmed(shapes, sheet.px)
    shapes += tuple(_scale(bounds, sheet.px, acting))
    return Scene(shapes, bounds, sheet.px, f"Free body: {link}, {moment_words(cycle)}", _words(link, acting))


def _trimmed(shapes, px):
    """The rectangle round all lines and letters, with a margin, and room for the scale below."""
    drawn = bounds_of(shapes)
    for z, half in labels.boxes(shapes, px):
        drawn = drawn | Bounds(z.real - half.real, z.imag - half.imag, z.real + half.real, z.imag + half.imag)
    drawn = drawn.grown(MARGIN_PX * px)
    return Bounds(drawn.left, drawn.bottom - FOOT_PX * px, max(drawn.right, drawn.left + NARROWEST_PX * px), drawn.top)


def _acting(body, count, k):
    """(name, where, force, moment) of all that acts at one position."""
    here = [[np.broadcast_to(x, (count,))[k].item() for x in (a.at, a.force, a.moment)] for a in body.forces]
    if not np.isfinite(np.array(here)).all():
        raise LinkageError(f"the forces on {body.link} have no finite value at position {k}: choose another one")
    return [(a.name, complex(z), f, m) for a, (z, f, m) in zip(body.forces, here, strict=True)]


def _in_place(cycle, link, name, z, force, moment):
    """What acts at a slide or along it moved to where the slide is drawn, with the moment that this takes."""
    for s in slidings(cycle).values():
        if name in (f"force along {s.slide.name}", f"input {s.slide.name}") or name.endswith(f" on {s.slide.name}"):
            spot = _drawn_at(cycle, s, link)
            return name, spot, force, moment + ((z - spot).conjugate() * force).imag
    return name, z, force, moment


def _drawn_at(cycle, s, link):
    """The middle of the block; of a ram the piston on the rod, the middle of the barrel."""
    if s.ram and link == s.slide.on:
        return cycle.now(link, s.ram.foot + 0.5 * s.ram.barrel * s.ram.along)[0]
    return cycle.now(s.slide.block, s.ram.tip - s.ram.rod * s.ram.along if s.ram else s.centre)[0]


def _cleaned(cycle, acting):
    """What is only rounding, beside the greatest force and what it does over the machine's size, made nothing."""
    force = max((abs(f) for _, _, f, _ in acting), default=0.0)
    turn = max([abs(m) for *_, m in acting] + [force * _reach(cycle)])
    keep = lambda value, most: value if abs(value) > NOTHING * most else 0.0  # noqa: E731
    return [(name, z, keep(f, force), keep(m, turn)) for name, z, f, m in acting]


def _sheet(cycle, link, acting):
    slides = slidings(cycle)
    spots = [cycle.now(link, z)[0] for z in body_spots(cycle, link, slides)]
    b = bounds_of(tuple(Text(z, "") for z in (*spots, *(z for _, z, *_ in acting))))
    px = max(b.width / (BOX[0] - 60), b.height / (BOX[1] - 60), _reach(cycle) / 900)
    x, y = (b.left + b.right) / 2, (b.bottom + b.top) / 2
    longest = max((2 * labels.half_size(_text(*one), NAME).real for one in acting), default=0.0)
    w, h = b.width / 2 + max(NAME_PX, longest + 50) * px, b.height / 2 + EDGE_PX * px
    return Sheet(cycle, Bounds(x - w, y - h, x + w, y + h), px, slides)


def _reach(cycle):
    """The size of the whole machine, so that a block by itself is not blown up."""
    return max(abs(a - b) for a in cycle.linkage.points.values() for b in cycle.linkage.points.values())


def _pins(sheet, link):
    for p in sheet.cycle.linkage.links[link]:
        z = sheet.cycle.now(link, sheet.cycle.linkage.points[p])[0]
        yield Group(f"pin:{p}", symbols.pin(0j, sheet.px, name=p), z, layer="pin")


def _role(name):
    if name == "inertia":
        return "inertia"
    return "force" if " at " in name or " on " in name else "load"


def _arrows(sheet, acting, ends):
    """A straight arrow at the point where each force acts, a round one for each moment."""
    turns = []
    for (name, z, _, moment), line in zip(acting, ends, strict=True):
        role = _role(name)
        if line:
            yield from symbols.arrow(*line, sheet.px, role=role, name=name)
        if moment:
            inner = sum(abs(z - w) < 24 * sheet.px for w in turns)  # of two moments at one place one goes outside
            turns.append(z)
            radius = (24 + 10 * inner) * sheet.px
            yield from symbols.turn_arrow(z, radius, 0.4, math.copysign(4.2, moment), sheet.px, role=role)


def _ends(sheet, link, acting):
    """Tail and head of each force's arrow: a push into the body ends at its point, so that it lies outside.

    Of forces that would lie over one another each further one is set a little aside.
    """
    spots = [sheet.cycle.now(link, z)[0] for z in body_spots(sheet.cycle, link, sheet.sliding)]
    middle, found = sum(spots) / len(spots) if spots else None, []
    for _, z, f, _ in acting:
        if not f:
            found.append(())
            continue
        way = f / abs(f)
        long = max(abs(f) * _unit(acting), SHORTEST_PX) * sheet.px * way
        pushes = middle is not None and ((middle - z) * way.conjugate()).real > 20 * sheet.px
        start = z - long if pushes else z
        aside = sum(1 for e in found if e and _along(e, start, start + long, sheet.px))
        shift = SIDE_PX * aside * sheet.px * 1j * way
        found.append((start + shift, start + long + shift))
    return found


def _along(line, start, end, px):
    """Whether two arrows lie over one another."""
    (p, q), way = line, (end - start) / abs(end - start)
    beside = max(abs(((z - start) * way.conjugate()).imag) for z in (p, q))
    a, b = sorted(((z - start) * way.conjugate()).real for z in (p, q))
    return beside < 0.5 * SIDE_PX * px and min(b, abs(end - start)) - max(a, 0.0) > px


def _unit(acting):
    """Pixels for one newton."""
    return LONGEST_PX / max((abs(f) for _, _, f, _ in acting), default=1.0)


def _scale(bounds, px, acting):
    if not any(f for _, _, f, _ in acting):
        return
    size = round_length(90 / _unit(acting))
    left = complex(bounds.left, bounds.bottom) + (14 + 12j) * px
    yield from symbols.scale_bar(left, size * _unit(acting) * px, force_text(size), px)


def _labels(sheet, shapes, acting, ends):
    """The name and size of each force at the free end of its arrow, and the names of the pins."""
    wishes = []
    for (name, z, f, moment), line in zip(acting, ends, strict=True):
        tip = max(line, key=lambda end: abs(end - z)) if line else z
        if f or moment:
            places = labels.around(tip, gap=8.0 if f else 30.0) + labels.around(tip, gap=48.0)
            wishes.append(labels.Wish(name, _text(name, z, f, moment), places, _role(name), NAME))
    pins = [s.shapes[0] for s in shapes if isinstance(s, Group) and s.name.startswith("pin:")]
    at = {s.name: next(g.at for g in shapes if getattr(g, "name", "") == f"pin:{s.name}") for s in pins}
    wishes += [labels.Wish(f"point:{n}", n, labels.around(z)) for n, z in at.items()]
    seen = [(labels.sample(shapes, sheet.px), 1.0)] * len(wishes)
    chosen = labels.place(wishes, seen, sheet.px, sheet.bounds, labels.boxes(shapes, sheet.px))
    return [labels.text_of(w, k, sheet.px) for w, k in zip(wishes, chosen, strict=True)]


def _text(name, _, force, moment):
    """The name with the sizes: the arrows show the senses."""
    sizes = [force_text(abs(force))] * bool(force) + [moment_text(abs(moment))] * bool(moment)
    return f"{name}: {', '.join(sizes)}"


def force_text(newtons) -> str:
    """A force to three figures with its unit."""
    size = abs(newtons)
    return f"{significant(newtons / 1000, 3)} kN" if size >= 1e4 else f"{significant(newtons, 3)} N"


def moment_text(newton_metres) -> str:
    """A moment to three figures with its unit."""
    return f"{significant(newton_metres, 3)} N m"


def _words(link, acting):
    parts = [f"Every force on {link}."]
    for name, z, f, moment in acting:
        if f:
            angle = math.degrees(math.atan2(f.imag, f.real)) % 360
            parts.append(
                f"{name}: {force_text(abs(f))} at {significant(angle, 1, places=1)}°, acting at {place_text(z)}."
            )
        if moment:
            parts.append(f"{name}: a moment of {moment_text(abs(moment))}, {'anti' if moment > 0 else ''}clockwise.")
    return " ".join([*parts, "Together they are in balance."])
