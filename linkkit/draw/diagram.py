"""The line diagram: a linkage in kinematic symbols; paths, ranges, ghosts and dimensions on request."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from . import dimensioned, extras, symbols
from .cycle import Cycle, cycle_of
from .naming import names
from .scene import Bounds, Group, Path, Scene
from .skeleton import far_side, link_groups, pins, ride, roles, slidings, through_pins
from .words import diagram_title, diagram_words

BOX = (600.0, 380.0)
EDGE_PX = 40.0
NARROWEST = 0.45  # of the greatest width
FOOT_PX = 22.0  # for the scale bar, under the stands


@dataclass(frozen=True)
class Sheet:
    """A cycle with the size at which it is drawn: what every part of a line diagram is made from."""

    cycle: Cycle
    bounds: Bounds
    px: float
    sliding: dict


def line_diagram(
    what,
    at=None,
    *,
    labels=True,
    paths=(),
    ghosts=(),
    ranges=False,
    dimensions=(),
    scale_bar=True,
    arrows=True,
    moving=False,
    places=None,
    frame=None,
    box=BOX,
    title=None,
) -> Scene:
    """A linkage as a kinematic diagram, at one position.

    Parameters
    ----------
    what : Motion or Linkage
        A linkage is drawn as sketched; its cycle is still used for paths, ranges and the length of guides.
    at : int, optional
        The position, an index into the cycle.
    labels : bool or "points" or "links"
    paths : sequence of str
        Points whose paths are drawn.
    ghosts : int or sequence of int
        So many other positions evenly over the cycle, or the positions at these indices, drawn thin.
    ranges : bool
        Mark how far each link that turns on a fixed pivot, or slides on a fixed guide, goes.
    dimensions : sequence
        Pairs of points for lengths, names of links for their angle from +x.
    scale_bar, arrows : bool
        A bar of a round length; arrows for the motion of input and output.
    moving : bool
        Put the labels where they hide little all round the cycle, for a picture that will be moved.
    places : dict, optional
        Remembers where each label was put, so that in a series of pictures they keep their places.
    frame : Bounds, optional
        A rectangle (metres) to show at least, so that pictures of a series keep one scale.
    box : (float, float)
        The greatest width and height in pixels.
    title : str, optional

    Returns
    -------
    Scene

    Raises
    ------
    LinkageError
        If the position is not one of the cycle, or not assembled, or a point or link is unknown.

    Examples
    --------
    >>> import linkkit as lk
    >>> from linkkit.draw import line_diagram
    >>> picture = line_diagram(lk.four_bar(0.4, 0.1, 0.35, 0.25), paths=["B"])
    >>> picture.svg().startswith("<svg")
    True
    """
    sheet = sheet_of(cycle_of(what, at), frame=frame, box=box)
    linkage = sheet.cycle.linkage
    linkage._know_points(*paths)
    shapes = machine(sheet)
    shapes += extras.paths(sheet, paths) + extras.ghosts(sheet, ghosts)
    shapes += extras.ranges(sheet) if ranges else ()
    shapes += extras.arrows(sheet) if arrows else ()
    shapes += extras.scale_bar(sheet) if scale_bar else ()
    shapes += dimensioned.dimensions(sheet, dimensions, shapes) if dimensions else ()
    shapes += names(sheet, shapes, labels, moving=moving, places=places) if labels else ()
    words = diagram_words(sheet.cycle, paths=paths, ranges=ranges, dimensions=dimensions)
    return Scene(shapes, sheet.bounds, sheet.px, title or diagram_title(sheet.cycle), words)


def sheet_of(cycle, *, frame=None, box=BOX) -> Sheet:
    """Choose the scale: the whole cycle of every point, and at least `frame`, fits the box with its symbols."""
    sliding = slidings(cycle)
    spots = extent(cycle, sliding)
    spots = spots if frame is None else spots | frame
    px = max(spots.width / (box[0] - 2 * EDGE_PX), spots.height / (box[1] - 2 * EDGE_PX - FOOT_PX), 1e-12)
    room = spots.grown(EDGE_PX * px)
    short = max(0.0, NARROWEST * box[0] * px - room.width) / 2  # or the names beside a tall machine find no room
    room = replace(room, left=room.left - short, right=room.right + short, bottom=room.bottom - FOOT_PX * px)
    return Sheet(cycle, room, px, sliding)


def extent(cycle, sliding=None) -> Bounds:
    """The rectangle that every point and every guide stays in, all round and as sketched."""
    spots = [np.append(cycle.point(p), z) for p, z in cycle.linkage.points.items()]
    for s in (slidings(cycle) if sliding is None else sliding).values():
        spots += [np.append(cycle.place(s.slide.on, z), z) for z in ([] if s.ram else s.guide())]
    spots = np.concatenate(spots)
    spots = spots[np.isfinite(spots)]
    return Bounds(*map(float, (spots.real.min(), spots.imag.min(), spots.real.max(), spots.imag.max())))


def machine(sheet) -> tuple:
    """The bare machine: fixed pivots and guides, every moving link, blocks, pins and other points."""
    return ground(sheet) + link_groups(sheet.cycle, sheet.px, sheet.sliding) + joints(sheet)


def ground(sheet, only=None) -> tuple:
    """The fixed link: a hatched stand at each of its pins, hatching under its other points and along its guides.

    `only`, a set of names, leaves out the other pins and slides.
    """
    cycle, px, fixed = sheet.cycle, sheet.px, sheet.cycle.linkage.fixed
    wanted = lambda name: only is None or name in only  # noqa: E731
    stands = []
    for p in filter(wanted, _feet(sheet)):
        stands += symbols.stand(cycle.linkage.points[p], px, down=away(cycle.linkage, p, px))
    for p in (p for p in cycle.linkage.links[fixed] if p not in pins(cycle.linkage) and wanted(p)):
        low, half = cycle.linkage.points[p] - 5j * px, 8 * px
        stands += symbols.ground_line(low - half, low + half, px, far=-1j)
    for s in sheet.sliding.values():
        if s.slide.on == fixed and wanted(s.slide.name):
            stands += symbols.guide(*s.guide(extra=24 * px), px, far=far_side(cycle, s.slide))
    return (Group(f"link:{fixed}", tuple(stands), layer="ground", link=fixed),)


def _feet(sheet):
    """The pins that stand on the fixed link; one inside a block that is itself fixed needs no stand."""
    linkage, fixed = sheet.cycle.linkage, sheet.cycle.linkage.fixed
    blocks = {s.centre for s in sheet.sliding.values() if s.slide.block == fixed}
    turning = pins(linkage)
    return [p for p in linkage.links[fixed] if p in turning and linkage.points[p] not in blocks]


def away(linkage, p, px):
    """Downwards, unless a link leaves the pin that way in the sketch or another pin lies where the stand would."""
    here = linkage.points[p]
    links = [k for k in linkage.carriers[p] if k != linkage.fixed]
    ways = [linkage.points[q] - here for k in links for q in linkage.links[k] if q != p]
    beside = [z - here for q, z in linkage.points.items() if q != p and abs(z - here) < 3 * symbols.STAND_PX * px]
    free = [d for d in (-1j, 1j, -1, 1) if all((w * np.conj(d)).real < 0.8 * abs(w) for w in (*ways, *beside))]
    return free[0] if free else -1j


def joints(sheet) -> tuple:
    """A pin or a dot at each point, riding on a link that carries it, and the links that run on through a pin."""
    linkage, turning, px = sheet.cycle.linkage, pins(sheet.cycle.linkage), sheet.px
    found = []
    for p, z in linkage.points.items():
        carrier = linkage.carriers[p][-1]
        mark = symbols.pin(0j, px, links=turning[p], name=p) if p in turning else symbols.dot(0j, px, name=p)
        found.append(ride(sheet.cycle, f"pin:{p}", carrier, mark, spot=z, layer="pin", upright=True))
    return tuple(found) + tuple(_running_on(sheet))


def _running_on(sheet):
    """A link that does not end at a pin is seen to run on through its circle."""
    play = roles(sheet.cycle.linkage)
    for p, link, way in through_pins(sheet.cycle.linkage):
        reach = symbols.PIN_PX * sheet.px * way
        line = (Path((-reach, reach), play[link]),)
        yield ride(sheet.cycle, f"through:{p}", link, line, spot=sheet.cycle.linkage.points[p], layer="pin")
