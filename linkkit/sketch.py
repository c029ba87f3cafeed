"""What a sketch must be before it is a linkage: each mistake in one sentence, in the user's words."""

from __future__ import annotations

from itertools import combinations

import numpy as np

from .errors import LinkageError


def check(linkage):
    """Raise LinkageError at the first thing that keeps the description from being a linkage."""
    if not linkage.links:
        raise LinkageError("there are no links: give at least a fixed link and one that moves")
    for test in (_fixed, _points, _links, _slides, _connected, _inputs):
        test(linkage)


def _fixed(linkage):
    if linkage.fixed not in linkage.links:
        raise LinkageError(
            f"the fixed link {linkage.fixed!r} is not one of the links: {', '.join(linkage.links)}"
        )
    if linkage.output is not None and linkage.output not in linkage.links:
        raise LinkageError(
            f"the output {linkage.output!r} is not one of the links: {', '.join(linkage.links)}"
        )


def _points(linkage):
    for name, z in linkage.points.items():
        if np.ndim(z) == 0 and not np.isfinite(z):
            raise LinkageError(f"point {name} is at {z}: its coordinates must be finite numbers")
        if not linkage.carriers[name]:
            raise LinkageError(f"point {name} is on no link: list it under a link, or leave it out")


def _links(linkage):
    sliding = {s.block for s in linkage.slides} | {s.on for s in linkage.slides}
    for link, carried in linkage.links.items():
        for p in carried:
            if p not in linkage.points:
                raise LinkageError(f"link {link} carries point {p}, which is not among the points")
        if len(set(carried)) < len(carried):
            raise LinkageError(f"link {link} lists a point twice: name each of its points once")
        if len(carried) < 2 and link not in sliding and link != linkage.fixed:
            raise LinkageError(
                f"link {link} carries {_count(carried)} and is on no slide: it needs two points or a slide"
            )
        _lengths(linkage, link, carried)


def _lengths(linkage, link, carried):
    for p, q in combinations(carried, 2):
        if np.any(np.abs(np.asarray(linkage.points[p]) - linkage.points[q]) == 0):
            raise LinkageError(
                f"points {p} and {q} of link {link} lie on one spot: a length must be more than zero"
            )


def _count(carried):
    return f"only the point {carried[0]}" if carried else "no point"


def _slides(linkage):
    names = [s.name for s in linkage.slides]
    for s in linkage.slides:
        for part, link in (("block", s.block), ("on", s.on)):
            if link not in linkage.links:
                raise LinkageError(f"slide {s.name}: its {part} {link!r} is not one of the links")
        if s.block == s.on:
            raise LinkageError(f"slide {s.name}: {s.block} cannot slide on itself")
        if names.count(s.name) > 1 or s.name in linkage.points:
            raise LinkageError(
                f"slide {s.name}: that name is taken; give each slide and point a name of its own"
            )
        if not np.all(np.isfinite(s.through)) or not np.allclose(abs(s.direction), 1, rtol=0, atol=1e-12):
            raise LinkageError(
                f"slide {s.name}: its line must pass through a finite point in a definite direction"
            )


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
                f"link {link} floats: neither a shared point nor a slide joins it to {linkage.fixed}"
            )


def _inputs(linkage):
    names = [i.name for i in linkage.inputs]
    for i in linkage.inputs:
        what = "point" if i.kind == "angle" else "slide"
        if names.count(i.name) > 1:
            raise LinkageError(f"two inputs are called {i.name}: give each a name of its own")
        for link in i.links:
            linkage._know_links(link)
        if i.at not in linkage.joined(*i.links) or (i.at in linkage.points) != (i.kind == "angle"):
            raise LinkageError(
                f"input {i.name}: links {i.links[0]} and {i.links[1]} are not paired at a {what} {i.at}"
            )
