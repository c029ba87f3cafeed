"""The sentences of a lesson and of an assignment's story, from the machine itself."""

from __future__ import annotations

import re
from textwrap import fill

import numpy as np

from ..coursework.own.asked import along
from ..kinds import link_motions
from ..motion import move
from ..reach import reach
from .plan import Plan

CAUTION = (
    "This is an ideal machine: rigid links, no play. A real one crushes and shears without warning, most of all near a limit "
    "position. Guards, isolation and the local rules decide what may be touched."
)


def listed(words) -> str:
    """Words in a row, with `and` before the last.

    Examples
    --------
    >>> listed(["A", "B", "C"])
    'A, B and C'
    """
    words = list(words)
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"


def named(plan: Plan) -> str:
    """What the machine is called within a sentence."""
    name = plan.linkage.name or plan.slug.replace("-", " ")
    return name[:1].lower() + name[1:]


def goes_in(plan: Plan) -> str:
    """What is driven, and how."""
    first = plan.linkage.inputs[0]
    how = "turned" if first.kind == "angle" else "pushed along"
    return f"What goes in: the {first.links[1]} is {how} at {first.at}, against the {first.links[0]}."


def held(plan: Plan) -> str:
    """Which other inputs are left alone."""
    others = [i.name for i in plan.linkage.inputs[1:]]
    return f"The input {listed(others)} is held as drawn. " if others else ""


def comes_out(plan: Plan) -> str:
    """What the output does."""
    output = plan.known.output
    how = re.split(r" through | over ", str(link_motions(plan.linkage)[output]))[0]  # how far is to be predicted
    return f"What comes out: the motion of the {output} ({how})."


def range_words(plan: Plan) -> str:
    """How far the input goes."""
    whole = reach(plan.linkage)
    if whole.round:
        return "The input turns all the way round."
    low, high = (amount(x, plan.turning) for x in whole.here)
    return f"The input goes from {low} to {high}."


def amount(value: float, angle: bool) -> str:
    """An angle or a length with sensible figures."""
    return f"{np.degrees(value):.1f}°" if angle else f"{1000 * value:.0f} mm"


def fastest(plan: Plan) -> str:
    """The greatest speed of the followed point at unit speed of the input."""
    motion = move(plan.linkage, reach(plan.linkage).values(361), speed=1.0)
    return f"{np.nanmax(np.abs(along(motion.velocity(plan.point), plan.axis))):.3f} m/s"


def story(plan: Plan) -> str:
    """The machine for a student's statement: its points, links, slides, what is driven and how angles count."""
    linkage = plan.linkage
    own = plan.numbers["points"]
    rows = [
        f"| {p} | {'your own, below' if p in own else f'({1000 * z.real:.1f}, {1000 * z.imag:.1f})'} | {listed(linkage.carriers[p])} |"
        for p, z in linkage.points.items()
    ]
    slides = [
        f"The {s.block} slides on the {s.on}, along a line that runs in the sketch through ({1000 * s.through.real:.1f}, "
        f"{1000 * s.through.imag:.1f}) mm at {np.degrees(np.angle(s.direction)):.2f} degrees from +x."
        for s in linkage.slides
    ]
    table = ["| point | place in the sketch, x and y in mm | pinned there, or carrying it |", "|---|---|---|", *rows]
    rigid = "Every link is rigid, so its lengths are those of the sketch, and each joint stays on the side that the sketch shows."
    said = f"{goes_in(plan)} {_measured(plan)} {held(plan)}The {linkage.fixed} is fixed. {rigid}"
    parts = [linkage.about, said, "\n".join(table), " ".join(slides), f"*{CAUTION}*"]
    return "\n\n".join(part if part[0] == "|" else fill(part, 118) for part in parts if part)


def _measured(plan: Plan) -> str:
    i = plan.linkage.inputs[0]
    if i.kind == "angle":
        ends = plan.linkage.links[i.links[1]][:2]
        return f"Its angle is the direction from {' to '.join(ends)}, anticlockwise from +x." if len(ends) == 2 else ""
    return f"Its length is measured along {i.at}, from the first point of the {i.links[0]} to that of the {i.links[1]}."
