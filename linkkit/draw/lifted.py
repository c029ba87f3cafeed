"""The breakdown picture: the machine, and its four-link chains lifted out of it one after the other."""

from __future__ import annotations

from dataclasses import replace

from ..breakdown import breakdown
from . import labels, symbols
from .cycle import cycle_of
from .diagram import Sheet, ground, joints, machine
from .scene import Bounds, Group, Scene, Text, bounds_of
from .skeleton import link_groups, slidings
from .words import moment_words

CELL = (330.0, 250.0)
EDGE_PX, LINE_PX, GAP_PX = 34.0, 19.0, 16.0
PARTS = (("fixed", "fixed"), ("input", "input"), ("coupler", "coupler"), ("output", "output"))


def breakdown_picture(what, at=None, *, columns=2) -> Scene:
    """The machine first, then each chain of its breakdown with its fixed link, input, coupler and output marked.

    Parameters
    ----------
    what : Motion or Linkage
    at : int, optional
        The position drawn, an index into the cycle; as sketched if a linkage is given without it.
    columns : int
        How many drawings stand side by side.

    Examples
    --------
    >>> import linkkit as lk
    >>> from linkkit.draw import breakdown_picture
    >>> print(breakdown_picture(lk.machine("net-shaker")).description[:72])
    The whole machine, as sketched, and 1 chain lifted out of it. 1. four-ba
    """
    cycle = cycle_of(what, at)
    chains = breakdown(cycle.linkage)
    sheet = _cell_sheet(cycle)
    cells = [_whole(sheet), *(_chain(sheet, chain, k) for k, chain in enumerate(chains, 1))]
    shapes = tuple(_placed(cell, k, columns, sheet) for k, cell in enumerate(cells))
    name = cycle.linkage.name or "linkage"
    return Scene(shapes, _page(sheet, len(cells), columns), sheet.px, f"Breakdown: {name}", _words(cycle, chains))


def _cell_sheet(cycle):
    """The scale at which the machine in this one position fits a cell."""
    spots = [cycle.now(cycle.linkage.carriers[p][0], z)[0] for p, z in cycle.linkage.points.items()]
    slides = slidings(cycle)
    spots += [cycle.now(s.slide.on, z)[0] for s in slides.values() if not s.ram for z in s.guide()]
    b = bounds_of(tuple(Text(z, "") for z in spots))
    px = max(b.width / (CELL[0] - 2 * EDGE_PX), b.height / (CELL[1] - 2 * EDGE_PX))
    x, y, w, h = (b.left + b.right) / 2, (b.bottom + b.top) / 2, px * CELL[0] / 2, px * CELL[1] / 2
    return Sheet(cycle, Bounds(x - w, y - h, x + w, y + h), px, slides)


def _whole(sheet):
    shapes = machine(sheet)
    return shapes + tuple(_letters(sheet, shapes, sheet.cycle.linkage.points)) + _legend(sheet, ["The whole machine"])


def _chain(sheet, chain, number):
    """The chain's links in their roles over the rest of the machine drawn thin, with its pins and a legend."""
    linkage = sheet.cycle.linkage
    parts = {getattr(chain, part): role for part, role in PARTS if getattr(chain, part)}
    parts = dict.fromkeys(chain.links, "output" if parts else "coupler") | parts
    shapes = _thin(sheet) + _in_their_roles(sheet, parts, chain) + _chain_pins(sheet, chain)
    points = [p for p in chain.pairs if p in linkage.points] or [p for k in parts for p in linkage.links[k]]
    shapes += tuple(_letters(sheet, shapes, dict.fromkeys(points)))
    lines = [(f"{number}. {chain.kind}", "label")]
    lines += [
        (f"{part}: {getattr(chain, part)}{_moving(chain, part)}", role) for part, role in PARTS if getattr(chain, part)
    ]
    return shapes + _legend(sheet, lines)


def _moving(chain, part):
    return ", which moves itself" if part == "fixed" and chain.moving else ""


def _thin(sheet):
    groups = link_groups(sheet.cycle, sheet.px, sheet.sliding)
    thin = [
        replace(g, layer="ghost", shapes=tuple(replace(s, role="faint", fill="") for s in g.shapes)) for g in groups
    ]
    return tuple(thin)


def _in_their_roles(sheet, parts, chain):
    play = {k: parts.get(k, "faint") for k in sheet.cycle.linkage.links}
    groups = [g for g in link_groups(sheet.cycle, sheet.px, sheet.sliding, play) if g.link in parts]
    fixed = next((k for k, role in parts.items() if role == "fixed"), None)
    if fixed == sheet.cycle.linkage.fixed:
        return (*ground(sheet, set(chain.pairs)), *groups)
    return (*groups, *_hatched(sheet, fixed))


def _hatched(sheet, link):
    """Hatching along a link that a chain is seen from although it moves."""
    spots = [sheet.cycle.now(link, sheet.cycle.linkage.points[p])[0] for p in sheet.cycle.linkage.links.get(link, ())]
    if len(spots) < 2:
        return ()
    start, end = max(((a, b) for a in spots for b in spots), key=lambda ab: abs(ab[0] - ab[1]))
    way = (end - start) / abs(end - start) * 1j
    return symbols.ground_line(start, end, sheet.px, far=way if way.imag < 0 else -way)


def _chain_pins(sheet, chain):
    wanted = {f"pin:{p}" for p in chain.pairs} or {
        f"pin:{p}" for k in chain.links for p in sheet.cycle.linkage.links[k]
    }
    return tuple(g for g in joints(sheet) if g.name in wanted)


def _letters(sheet, shapes, points):
    """The names of points, each where it hides nothing."""
    spots = {p: sheet.cycle.now(sheet.cycle.linkage.carriers[p][0], sheet.cycle.linkage.points[p])[0] for p in points}
    wishes = [labels.Wish(f"point:{p}", p, labels.around(z), size=0.9) for p, z in spots.items()]
    seen = [(labels.sample(shapes, sheet.px), 1.0)] * len(wishes)
    chosen = labels.place(wishes, seen, sheet.px, sheet.bounds)
    return [labels.text_of(w, k, sheet.px) for w, k in zip(wishes, chosen, strict=True)]


def _legend(sheet, lines):
    """Lines of text under the drawing."""
    top = complex(sheet.bounds.left + 10 * sheet.px, sheet.bounds.bottom - 4 * sheet.px)
    pairs = [(line, "label") if isinstance(line, str) else line for line in lines]
    step = 1j * LINE_PX * sheet.px
    return tuple(Text(top - k * step, text, role, anchor="start", size=0.95) for k, (text, role) in enumerate(pairs))


def _placed(cell, k, columns, sheet):
    row, column = divmod(k, columns)
    return Group(f"cell:{k}", cell, complex(column * _pitch(sheet).real, -row * _pitch(sheet).imag))


def _pitch(sheet):
    return complex(CELL[0] + GAP_PX, CELL[1] + 5 * LINE_PX + GAP_PX) * sheet.px


def _page(sheet, count, columns):
    rows, b, pitch = -(-count // columns), sheet.bounds, _pitch(sheet)
    wide = min(count, columns) * pitch.real - GAP_PX * sheet.px
    return Bounds(b.left, b.top - rows * pitch.imag, b.left + wide, b.top)


def _words(cycle, chains):
    count = f"{len(chains)} chain{'s' * (len(chains) != 1)}"
    parts = [f"The whole machine, {moment_words(cycle)}, and {count} lifted out of it."]
    for k, chain in enumerate(chains, 1):
        named = ", ".join(f"{part} {getattr(chain, part)}" for part, _ in PARTS if getattr(chain, part))
        parts.append(f"{k}. {chain.kind}{': ' if named else ''}{named}." + (f" {chain.note}." if chain.note else ""))
    return " ".join(parts)
