"""What a sketch must be before it is a linkage: each mistake in one sentence, in the user's words."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from itertools import combinations

import numpy as np

from .errors import LinkageError
from .quantity import LEAST, MOST, shown, spot


def tidy(linkage):
    """Give every part of a description its plain type, or say which part has another."""
    points = {_name("point", name): _spot(name, z) for name, z in _table("points", linkage.points)}
    links = {_name("link", link): _names(link, carried) for link, carried in _table("links", linkage.links)}
    from .linkage import Input, Slide

    slides = tuple(_slide(s) for s in _parts("slides", linkage.slides, Slide))
    inputs = tuple(_parts("inputs", linkage.inputs, Input))
    for name, value in {"points": points, "links": links, "slides": slides, "inputs": inputs}.items():
        object.__setattr__(linkage, name, value)


def _table(what, given):
    if not isinstance(given, Mapping):
        raise LinkageError(f"{what} must be a dict from name to what it is, not {shown(given)}")
    return given.items()


def _name(what, name):
    if not isinstance(name, str) or not name:
        raise LinkageError(f"the name of a {what} must be a text, not {shown(name)}")
    return name


def _names(link, carried):
    if isinstance(carried, str) or not isinstance(carried, (tuple, list)):
        raise LinkageError(f"link {link} must list the names of its points, as in ('A', 'B'), not {shown(carried)}")
    return tuple(carried)


def _parts(what, given, kind):
    if not isinstance(given, (tuple, list)) or not all(isinstance(part, kind) for part in given):
        raise LinkageError(f"{what} must be a tuple of {kind.__name__}, not {shown(given)}")
    return given


def _spot(name, z):
    """A sketch position as a plain complex number, or as a complex array for a family."""
    if type(z) is complex:
        return z
    try:
        return spot(z, f"point {name} must be a complex number x + iy in metres")
    except LinkageError as error:
        raise LinkageError(str(error), where=("points", name)) from None


def _slide(s):
    if isinstance(s.through, complex) and isinstance(s.direction, complex):
        return s
    what = f"slide {s.name}: its line needs a point and a direction as complex numbers"
    return replace(s, through=spot(s.through, what), direction=spot(s.direction, what))


def check(linkage):
    """Raise LinkageError at the first thing that keeps the description from being a linkage."""
    if not linkage.links:
        raise LinkageError("there are no links: give at least a fixed link and one that moves")
    for test in (_fixed, _links, _points, _slides, _connected, _inputs):
        test(linkage)


def _fixed(linkage):
    for what, link in (("fixed link", linkage.fixed), ("output", linkage.output)):
        if link is None and what == "output":
            continue
        if not isinstance(link, str) or link not in linkage.links:
            raise LinkageError(
                f"the {what} {shown(link)} is not one of the links: {', '.join(linkage.links)}",
                where=(what.split()[0],),
            )


def _points(linkage):
    for name, z in linkage.points.items():
        if np.ndim(z) == 0 and not abs(z) < MOST:
            raise LinkageError(
                f"point {name} is at {z}: its coordinates must be finite numbers of a sensible size",
                where=("points", name),
            )
        if not linkage.carriers[name]:
            raise LinkageError(
                f"point {name} is on no link: list it under a link, or leave it out", where=("points", name)
            )


def _links(linkage):
    sliding = {s.block for s in linkage.slides} | {s.on for s in linkage.slides}
    for link, carried in linkage.links.items():
        sentence = _fault(linkage, link, carried, sliding)
        if sentence:
            raise LinkageError(sentence, where=("links", link))


def _fault(linkage, link, carried, sliding):
    """What is wrong with a link, if anything is."""
    for p in carried:
        if not isinstance(p, str) or p not in linkage.points:
            return f"link {link} carries point {p}, which is not among the points"
    if len(set(carried)) < len(carried):
        return f"link {link} lists a point twice: name each of its points once"
    if len(carried) < 2 and link not in sliding and link != linkage.fixed:
        return f"link {link} carries {_count(carried)} and is on no slide: it needs two points or a slide"
    for p, q in combinations(carried, 2):
        apart = linkage.points[p] - linkage.points[q]
        if abs(apart) < LEAST if type(apart) is complex else np.any(np.abs(apart) < LEAST):
            return f"points {p} and {q} of link {link} lie on one spot: a length must be more than zero"
    return None


def _count(carried):
    return f"only the point {carried[0]}" if carried else "no point"


def _slides(linkage):
    for s in linkage.slides:
        sentence = _slide_fault(linkage, s)
        if sentence:
            raise LinkageError(f"slide {s.name}: {sentence}", where=("slides", s.name))


def _slide_fault(linkage, s):
    """What is wrong with a slide, if anything is."""
    for part, link in (("block", s.block), ("on", s.on)):
        if link not in linkage.links:
            return f"its {part} {link!r} is not one of the links"
    if s.block == s.on:
        return f"{s.block} cannot slide on itself"
    if [other.name for other in linkage.slides].count(s.name) > 1 or s.name in linkage.points:
        return "that name is taken; give each slide and point a name of its own"
    if np.ndim(s.through) == 0 and not abs(s.through) < MOST:
        return "its line must pass through a finite point of the sketch"
    if not np.all(np.abs(np.abs(s.direction) - 1) < 1e-12):
        return f"its direction must be a unit vector, not {shown(s.direction)}"
    return None


def _connected(linkage):
    reached, front = {linkage.fixed}, [linkage.fixed]
    while front:
        here = front.pop()
        new = {k for k in linkage.links if k not in reached and linkage.joined(here, k)}
        reached |= new
        front += new
    for link in linkage.links:
        if link not in reached:
            raise LinkageError(
                f"link {link} floats: neither a shared point nor a slide joins it to {linkage.fixed}",
                where=("links", link),
            )


def _inputs(linkage):
    for i in linkage.inputs:
        sentence = _input_fault(linkage, i)
        if sentence:
            raise LinkageError(sentence, where=("inputs", i.name))


def _input_fault(linkage, i):
    """What is wrong with an input, if anything is."""
    if [other.name for other in linkage.inputs].count(i.name) > 1:
        return f"two inputs are called {i.name}: give each a name of its own"
    if i.kind not in ("angle", "distance"):
        return f"input {i.name}: its kind is 'angle' at a pin or 'distance' along a slide, not {i.kind!r}"
    if not isinstance(i.links, (tuple, list)) or len(i.links) != 2 or i.links[0] == i.links[1]:
        return f"input {i.name} needs the two links it stands between, not {shown(i.links)}"
    for link in i.links:
        if link not in linkage.links:
            return f"input {i.name}: there is no link {link}; the links are {', '.join(linkage.links)}"
    what = "point" if i.kind == "angle" else "slide"
    if i.at not in linkage.joined(*i.links) or (i.at in linkage.points) != (i.kind == "angle"):
        said = f"input {i.name}: links {i.links[0]} and {i.links[1]} are not paired at a {what} {i.at}"
        return said + (f"; they are at {', '.join(met)}" if (met := linkage.joined(*i.links)) else "")
    return _span_fault(i)


def _span_fault(i):
    if i.span is None:
        return None
    try:
        low, high = map(float, i.span)
    except (TypeError, ValueError):
        low, high = 1.0, 0.0
    if not (low < high and np.isfinite([low, high]).all()):
        return f"input {i.name}: its span must be two finite numbers, the smaller first, not {shown(i.span)}"
    return None
