"""A sheet of A4 and the scale of what is drawn on it."""

from __future__ import annotations

from dataclasses import dataclass, replace

from ..errors import LinkageError
from .scene import Bounds, Path, Text

LONG, SHORT = 0.297, 0.210  # metres: ISO 216
MARGIN = 0.012
FOOT = 0.012
SCALES = (0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500, 1000)  # ISO 5455
SCREEN, EDGE_PX, NARROWEST = (640.0, 440.0), 42.0, 360.0  # pixels
PIXEL = 0.0254 / 96  # metres: the pixel of CSS


@dataclass(frozen=True)
class Paper:
    """A sheet: the rectangle of the machine that it covers, the drawing scale, machine metres in a pixel."""

    bounds: Bounds
    scale: float
    px: float


def sheet(spots, scale=None) -> Paper:
    """The sheet round a rectangle of the machine, upright or lying, at the scale given or the largest usual
    one.

    Raises
    ------
    LinkageError
        If it does not fit.
    """
    for n in SCALES if scale is None else (scale,):
        for width, height in ((LONG, SHORT), (SHORT, LONG)):
            if spots.width <= n * (width - 2 * MARGIN) and spots.height <= n * (height - 2 * MARGIN - FOOT):
                return _centred(spots, n, width, height)
    raise LinkageError(
        f"the drawing does not fit a sheet of A4 at a scale of 1:{scale or SCALES[-1]:g}: choose a smaller scale"
    )


def screen(spots, scale) -> Paper:
    """What a page shows of the drawing: its own rectangle with a margin, letters of a readable size."""
    px = max(spots.width / (SCREEN[0] - 2 * EDGE_PX), spots.height / (SCREEN[1] - 2 * EDGE_PX))
    room = spots.grown(EDGE_PX * px)
    short = max(0.0, NARROWEST * px - room.width) / 2
    room = replace(room, left=room.left - short, right=room.right + short)
    return Paper(replace(room, bottom=room.bottom - 0.6 * EDGE_PX * px), scale, px)


def _centred(spots, scale, width, height):
    x, y = (spots.left + spots.right) / 2, (spots.bottom + spots.top) / 2 - scale * FOOT / 2
    w, h = scale * width / 2, scale * height / 2
    return Paper(Bounds(x - w, y - h, x + w, y + h), scale, PIXEL * scale)


def title_block(paper, text) -> list:
    """The frame of the drawing and its line of text at the foot."""
    b = paper.bounds.grown(-8 * paper.px)
    corners = (complex(b.left, b.bottom), complex(b.right, b.bottom), complex(b.right, b.top), complex(b.left, b.top))
    foot = complex(b.left + 8 * paper.px, b.bottom + 12 * paper.px)
    return [Path(corners, "axis", "back", closed=True), Text(foot, text, "note", anchor="start", size=0.85)]
