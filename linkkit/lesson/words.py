"""The sentences of a lesson, from the machine itself."""

from __future__ import annotations

import re

import numpy as np

from ..coursework.own.asked import along
from ..kinds import link_motions
from ..motion import move
from ..reach import reach
from .plan import Plan


def named(plan: Plan) -> str:
    """What the machine is called within a sentence."""
    name = plan.linkage.name or plan.slug.replace("-", " ")
    return name[:1].lower() + name[1:]


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
