"""Where the letters of a picture really stand: boxes of their ink, from the font itself and not from an estimate."""

import functools
import itertools
import math

import numpy as np

from linkkit.draw.scene import Circle, Group, Text, flat
from linkkit.draw.style import TEXT_PX

SLACK_PX = 0.5  # painted outlines are thinner than a pixel at their edge


@functools.cache
def ink(text):
    """Width and height in pixels of the ink of a text at size 1, in the font that pictures name first."""
    from matplotlib.font_manager import FontProperties
    from matplotlib.textpath import TextPath

    box = TextPath((0, 0), text, size=TEXT_PX, prop=FontProperties(family="DejaVu Sans")).get_extents()
    return box.width, box.height


def corners(text, at, px):
    """The corners of a text's ink, complex; it stands upright on its middle height and turns with `turn`."""
    wide, high = (size * text.size * px / 2 for size in ink(text.text))
    along = np.exp(1j * text.turn)
    middle = at + {"start": 1, "middle": 0, "end": -1}[text.anchor] * wide * along
    return middle + along * np.array([-wide - 1j * high, wide - 1j * high, wide + 1j * high, -wide + 1j * high])


def lettering(scene):
    """(name or text, corners) of all texts, and (name, centre, radius) of all pins and dots."""
    texts, pins = [], []
    for shape, at, turn in flat(scene.shapes):
        if isinstance(shape, Text):
            texts.append((shape.name or shape.text, corners(shape, at + turn * shape.at, scene.px)))
        elif isinstance(shape, Circle) and shape.layer == "pin":
            pins.append((shape.name, at + turn * shape.centre, shape.radius))
    return texts, pins


def overlap(a, b, slack):
    """Whether two rectangles share more than `slack` in every direction (separating axes: their own sides)."""
    for box in (a, b):
        for way in (box[1] - box[0], box[3] - box[0]):
            p, q = ((z * np.conj(way)).real / abs(way) for z in (a, b))
            if min(p.max(), q.max()) - max(p.min(), q.min()) <= slack:
                return False
    return True


def away(box, points):
    """How far each point is from a rectangle, 0 inside."""
    across, up = box[1] - box[0], box[3] - box[0]
    d = points - box.mean()
    x, y = ((d * np.conj(way)).real / abs(way) for way in (across, up))
    return np.hypot(np.maximum(abs(x) - abs(across) / 2, 0), np.maximum(abs(y) - abs(up) / 2, 0))


def collisions(scene):
    """Texts that lie over one another, over a pin or over the edge of the picture, in words."""
    texts, pins = lettering(scene)
    slack = SLACK_PX * scene.px
    middles = np.array([box.mean() for _, box in texts])
    reach = np.array([abs(box[0] - box.mean()) for _, box in texts])
    found = []
    for k, j in itertools.combinations(range(len(texts)), 2):
        if abs(middles[k] - middles[j]) < reach[k] + reach[j] and overlap(texts[k][1], texts[j][1], slack):
            found.append(f"{texts[k][0]} over {texts[j][0]}")
    b = scene.bounds
    low, high = complex(b.left, b.bottom), complex(b.right, b.top)
    for name, box in texts:
        inside = low.real <= box.real.min() <= box.real.max() <= high.real
        if not inside or not low.imag <= box.imag.min() <= box.imag.max() <= high.imag:
            found.append(f"{name} over the edge")
    spots, radii = np.array([z for _, z, _ in pins]), np.array([r for *_, r in pins])
    for name, box in texts if pins else ():
        found += [f"{name} over the pin {pins[k][0]}" for k in np.flatnonzero(away(box, spots) < radii - slack)]
    return found


def lines(scene):
    """Points a pixel apart along the drawn lines of every moving link."""
    found = {}
    for group in (g for g in scene.shapes if isinstance(g, Group) and g.layer in ("link", "block")):
        for shape, at, turn in flat((group,)):
            z = at + turn * np.array(shape.points + (shape.points[:1] if shape.closed else ()))
            for a, b in itertools.pairwise(z):
                found.setdefault(group.link, []).append(np.linspace(a, b, 2 + math.ceil(abs(b - a) / scene.px)))
    return {link: np.concatenate(pieces) for link, pieces in found.items()}


def mistaken(scene, slack_px=1.0):
    """Names of links that lie nearer to another moving link than to their own, by more than `slack_px`, in words."""
    drawn, found = lines(scene), []
    for name, box in lettering(scene)[0]:
        link = name.removeprefix("link:")
        if link == name or link not in drawn:
            continue
        near = {k: away(box, z).min() / scene.px for k, z in drawn.items()}
        found += [f"{link} {near[link]:.0f} px away, {k} {d:.0f}" for k, d in near.items() if d < near[link] - slack_px]
    return found
