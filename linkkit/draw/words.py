"""A line diagram in words, made from the same positions as the picture."""

from __future__ import annotations

import numpy as np

from .skeleton import pins, roles
from .units import angle_text, direction_text, length_text, place_text

PLAYS = {"input": "input", "output": "output"}


def diagram_title(cycle) -> str:
    """A short title: the linkage and the position shown."""
    name = cycle.linkage.name or "linkage"
    return f"Line diagram: {name}, {moment_words(cycle)}"


def moment_words(cycle) -> str:
    """Which position is shown: the value of the first input there, or the sketch."""
    if cycle.moment is None:
        return "as sketched"
    value = float(cycle.input[cycle.moment])
    if cycle.kind == "angle":
        return f"input at {direction_text(value)}"
    return f"input at {length_text(value)}"


def diagram_words(cycle, *, paths=(), ranges=False, dimensions=()) -> str:
    """The whole diagram in sentences: the fixed link, each moving link, slides, points; then what was asked for."""
    parts = [_fixed(cycle.linkage), *_links(cycle.linkage), *_slides(cycle.linkage), _places(cycle)]
    parts += [_motion(cycle, k) for k in _ends(cycle.linkage)] if cycle.motion is not None else []
    parts += [_path(cycle, p) for p in paths]
    parts += ["Arcs and lines of dots mark how far each guided link goes."] if ranges else []
    parts += [f"Dimensioned: {', '.join(_dimension(d) for d in dimensions)}."] if dimensions else []
    return " ".join(p for p in parts if p)


def _fixed(linkage):
    at = [p for p in linkage.links[linkage.fixed] if p in pins(linkage)]
    guides = [s.name for s in linkage.slides if linkage.fixed in (s.block, s.on)]
    have = [f"fixed pivot{'s' * (len(at) > 1)} {listed(at)}"] if at else []
    have += [f"fixed guide {listed(guides)}"] if guides else []
    return f"The fixed link is {linkage.fixed}" + (f", with {listed(have)}." if have else ".")


def _links(linkage):
    play = roles(linkage)
    for k in linkage.moving:
        carried = linkage.links[k]
        part = f" ({PLAYS[play[k]]})" if play[k] in PLAYS else ""
        yield f"Link {k}{part}" + (f" carries {listed(carried)}." if carried else " carries no point.")


def _slides(linkage):
    for s in linkage.slides:
        yield f"{s.block} slides on {s.on}."


def _places(cycle):
    spots = [(p, cycle.now(cycle.linkage.carriers[p][0], z)[0]) for p, z in cycle.linkage.points.items()]
    return f"Drawn {moment_words(cycle)}: {', '.join(f'{p} at {place_text(z)}' for p, z in spots)}."


def _ends(linkage):
    driven = [i.links[0] if i.links[1] == linkage.fixed else i.links[1] for i in linkage.inputs]
    return [
        *driven,
        *([linkage.output] if linkage.output and linkage.output not in (*driven, linkage.fixed) else []),
    ]


def _motion(cycle, link):
    """How far one link turns, or its first point travels if it does not turn."""
    if cycle.goes_round(link):
        return f"{link} turns right round."
    if cycle.spread(link) > 1e-6:
        return f"{link} turns to and fro through {angle_text(cycle.spread(link))}."
    carried = cycle.linkage.links[link]
    z = cycle.place(link, cycle.linkage.points[carried[0]] if carried else 0j)[cycle.ok]
    if np.abs(z - z[0]).max() < 1e-9 * max(1e-9, np.abs(z).max()):
        return f"{link} is held still."
    return f"{link} moves without turning, over {_stretch(z)}."


def _stretch(z):
    z = z[np.isfinite(z)]
    return length_text(float(np.hypot(np.ptp(z.real), np.ptp(z.imag)))) if len(z) else "no distance"


def _path(cycle, p):
    z = cycle.point(p)
    z = z[np.isfinite(z)]
    start = z[np.abs(z - z[0]).argmax()]
    way = z[np.abs(z - start).argmax()] - start  # between two points far apart, if it has any
    long = abs(way)
    if long < 1e-9 * max(1e-9, np.abs(z).max()):
        return f"{p} stays where it is."
    if np.abs(((z - start) * np.conj(way)).imag).max() < 1e-9 * long * long:
        return f"The path of {p} is a straight line, {length_text(float(long))} long."
    shape = "a closed curve" if cycle.whole_turn else "an open curve"
    wide, high = (length_text(float(np.ptp(part))) for part in (z.real, z.imag))
    return f"The path of {p} is {shape}, {wide} wide and {high} high."


def _dimension(item):
    return f"the angle of {item}" if isinstance(item, str) else f"{item[0]}{item[1]}"


def listed(names) -> str:
    """Names as a sentence lists them: "O, N and Q"."""
    names = list(names)
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"
