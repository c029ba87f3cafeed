"""A machine told for a student's statement: its points, links and slides, what is driven, and how that is measured."""

from __future__ import annotations

from collections.abc import Collection
from textwrap import fill

from .lines import told

CAUTION = (
    "This is an ideal machine: rigid links, no play. A real one crushes and shears without warning, most of all near a limit "
    "position. Guards, isolation and the local rules decide what may be touched."
)


def story(linkage, own: Collection[str] = (), caution: str = CAUTION) -> str:
    """The machine in Markdown.

    Parameters
    ----------
    own : collection of str
        The points that each student has elsewhere.

    Examples
    --------
    >>> import linkkit as lk
    >>> "| A | your own, below | crank and coupler |" in story(lk.machine("net-shaker"), ["A"])
    True
    """
    rows = [
        f"| {p} | {'your own, below' if p in own else f'({1000 * z.real:.1f}, {1000 * z.imag:.1f})'} | {listed(linkage.carriers[p])} |"
        for p, z in linkage.points.items()
    ]
    slides = [f"The {s.block} slides on the {s.on}, along {told(linkage, s, own)}." for s in linkage.slides]
    table = ["| point | place in the sketch, x and y in mm | pinned there, or carrying it |", "|---|---|---|", *rows]
    rigid = "Every link is rigid, so its lengths are those of the sketch, and each joint stays on the side that the sketch shows."
    said = f"{goes_in(linkage)} {_measured(linkage)} {held(linkage)}The {linkage.fixed} is fixed. {rigid}"
    parts = [linkage.about, said, "\n".join(table), " ".join(slides), caution and f"*{caution}*"]
    return "\n\n".join(part if part[0] == "|" else fill(part, 118) for part in parts if part)


def listed(words) -> str:
    """Words in a row, with `and` before the last.

    Examples
    --------
    >>> listed(["A", "B", "C"])
    'A, B and C'
    """
    words = list(words)
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"


def goes_in(linkage) -> str:
    """What is driven, and how."""
    i = linkage.inputs[0]
    if i.kind == "angle":
        return f"What goes in: the {i.links[1]} is turned at {i.at}, against the {i.links[0]}."
    return f"What goes in: the {i.links[1]} is pushed along the slide {i.at} of the {i.links[0]}."


def held(linkage) -> str:
    """Which other inputs are left alone."""
    others = [i.name for i in linkage.inputs[1:]]
    return f"The input {listed(others)} is held as drawn. " if others else ""


def _measured(linkage) -> str:
    i = linkage.inputs[0]
    if i.kind == "angle":
        ends = linkage.links[i.links[1]][:2]
        return f"Its angle is the direction from {' to '.join(ends)}, anticlockwise from +x." if len(ends) == 2 else ""
    first = [
        f"{linkage.links[k][0]} of the {k}" if linkage.links[k] else f"the line's first point on the {k}"
        for k in i.links
    ]
    return f"The length of the input is measured along {i.at}, from {first[0]} to {first[1]}."
