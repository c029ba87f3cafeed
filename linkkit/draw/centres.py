"""Instant centres drawn: those that are seen at once, then each one where two lines of the theorem cross."""

from __future__ import annotations

import numpy as np

from ..centres import instant_centres
from .cycle import cycle_of
from .diagram import BOX, EDGE_PX, Sheet, extent, machine
from .scene import Bounds, Circle, Path, Text, bounds_of
from .skeleton import slidings
from .staged import Drawing, Stage
from .units import place_text
from .words import moment_words

SUBSCRIPTS = str.maketrans("0123456789", "₀₁₂₃₄₅₆₇₈₉")
NEAR = 1.2  # times the size of the machine: centres farther away are told, not shown


def centres_picture(motion, at=0) -> Drawing:
    """The instant centres of a linkage at one position, in the order in which the theorem of three centres finds them.

    Links are numbered in the order of the description, and the centre of links 1 and 3 is I₁₃.

    Parameters
    ----------
    motion : Motion
    at : int
        The position, an index into the cycle.

    Returns
    -------
    Drawing
        Stages with words; ``picture(n)`` is the scene after n of them.

    Examples
    --------
    >>> import linkkit as lk
    >>> from linkkit.draw import centres_picture
    >>> len(centres_picture(lk.move(lk.four_bar(0.4, 0.1, 0.35, 0.25)), 40).stages)
    3
    """
    cycle, found = cycle_of(motion, at), instant_centres(motion)
    board = _Board(cycle, found)
    stages = [_seen(board), *(_constructed(board, step) for step in found.found)]
    stages += [_given(board)] if found.rest else []
    links = [f"{k} {link}" for k, link in enumerate(found.links, 1)]
    title = f"Instant centres: {cycle.linkage.name or 'linkage'}, {moment_words(cycle)}"
    under, line = (*board.under, *_legend(board, links)), f"The links: {', '.join(links)}."
    return Drawing(tuple(stages), board.bounds, board.px, title, under, line, fading=True)


class _Board:
    """The machine at one position, large enough for the centres that lie near it."""

    def __init__(self, cycle, found):
        self.cycle, self.found, self.k = cycle, found, cycle.moment
        box = extent(cycle)
        reach = box.grown(NEAR * max(box.width, box.height))
        near = [z for z in map(self.centre, (*found.seen, *(s.pair for s in found.found))) if _inside(z, reach)]
        box = box | bounds_of(tuple(Text(z, "") for z in near)) if near else box
        self.px = max(box.width / (BOX[0] - 2 * EDGE_PX), box.height / (BOX[1] + 60 - 2 * EDGE_PX))
        grown = box.grown(EDGE_PX * self.px)
        self.inner = grown
        wide = max(len(k) for k in found.links) * 8 + 40
        self.bounds = Bounds(grown.left - wide * self.px, grown.bottom, grown.right, grown.top)
        self.under = machine(Sheet(cycle, self.bounds, self.px, slidings(cycle)))

    def centre(self, pair):
        """Where the centre of a pair is; nan if it is at infinity."""
        return complex(np.ravel(self.found.between(*pair))[self.k])

    def way(self, pair):
        """The direction in which a centre at infinity lies."""
        return complex(np.ravel(self.found.direction(*pair))[self.k])

    def name(self, pair):
        """The centre's name by the numbers of its links, the smaller first."""
        numbers = sorted(self.found.links.index(k) + 1 for k in pair)
        mark = "" if max(numbers) < 10 else ","
        return "I" + mark.join(map(str, numbers)).translate(SUBSCRIPTS)

    def shown(self, pair):
        """The centre by its name, if it lies in the picture."""
        z = self.centre(pair)
        return {self.name(pair): z} if _inside(z, self.bounds) else {}


def _legend(board, links):
    """The numbers of the links in a column at the upper left, on the paper of the picture."""
    top = complex(board.bounds.left, board.bounds.top) + (12 - 16j) * board.px
    return [Text(top - 17j * k * board.px, text, "note", anchor="start", size=0.9) for k, text in enumerate(links)]


def _inside(z, b):
    return z == z and b.left < z.real < b.right and b.bottom < z.imag < b.top


def _seen(board):
    """The centres at the pins, and those of slides at infinity."""
    pins = [p for p in board.found.seen if board.centre(p) == board.centre(p)]
    far = [p for p in board.found.seen if p not in pins]
    words = f"Seen at once: {', '.join(map(board.name, pins))} at the pins"
    if far:
        words += f"; {', '.join(map(board.name, far))} at infinity, square to the slide"
    dots = [s for p in pins for s in _dot(board, board.centre(p))]
    return Stage(words + ".", tuple(dots), {n: z for p in pins for n, z in board.shown(p).items()})


def _constructed(board, step):
    """One centre where two lines cross."""
    lines = tuple(s for through in step.lines for s in _line(board, through))
    z, name = board.centre(step.pair), board.name(step.pair)
    one, two = ("".join(f"{board.name(a)} and {board.name(b)}") for a, b in step.lines)
    words = f"{name}: on the line through {one} and on the line through {two}. {_where(board, step.pair)}"
    return Stage(words, (*lines, *(_dot(board, z) if z == z else ())), board.shown(step.pair))


def _where(board, pair):
    z = board.centre(pair)
    if z != z:
        return "The lines are parallel: it is at infinity."
    return f"It lies at {place_text(z)}" + ("." if _inside(z, board.bounds) else ", outside this picture.")


def _given(board):
    """Centres that the theorem does not reach."""
    pairs = board.found.rest
    places = "; ".join(f"{board.name(p)}: {_where(board, p)}" for p in pairs)
    dots = [s for p in pairs for s in _dot(board, board.centre(p)) if board.shown(p)]
    found = {n: z for p in pairs for n, z in board.shown(p).items()}
    return Stage(f"The theorem does not reach these; they follow from the velocities. {places}", tuple(dots), found)


def _dot(board, z):
    return [Circle(z, 4.0 * board.px, "chosen", "pin", fill="paper")] if _inside(z, board.bounds) else []


def _line(board, through):
    """The line through two centres, one of which may be at infinity, as far as the picture goes."""
    spots = [board.centre(p) for p in through]
    known = [z for z in spots if z == z]
    if not known:
        return ()
    way = known[1] - known[0] if len(known) == 2 else board.way(through[0] if spots[0] != spots[0] else through[1])
    ends = clipped(known[0], way, board.inner) if way else ()
    return (Path(ends, "construction", "construction"),) if ends else ()


def clipped(z, way, bounds) -> tuple:
    """The ends of the line through z inside a rectangle; empty if it passes by (Liang & Barsky 1984)."""
    low, high = -np.inf, np.inf
    for start, step, near, far in (
        (z.real, way.real, bounds.left, bounds.right),
        (z.imag, way.imag, bounds.bottom, bounds.top),
    ):
        if step == 0:
            if not near <= start <= far:
                return ()
            continue
        a, b = sorted(((near - start) / step, (far - start) / step))
        low, high = max(low, a), min(high, b)
    return (z + low * way, z + high * way) if low < high else ()
