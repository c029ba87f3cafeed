"""The assignment "four-links": positions, limits, classes and motion kinds of four links in a loop."""

from __future__ import annotations

from .bank import boatshed_chain, ice_chopper, lamp_turner, net_shaker, net_shaker_code, net_shaker_limits
from .question import Assignment

ASSIGNMENT = Assignment(
    id="four-links",
    title="Four links in a loop",
    opening=(
        "Four machines from Marrow Quay, each a loop of four links, with dimensions of your own. Draw, "
        "calculate and, at one point, "
        "program. Each question says how near your answer has to be."
    ),
    settings=(
        boatshed_chain.SETTING,
        lamp_turner.LAMP_TURNER,
        lamp_turner.HATCH_CLOSER,
        net_shaker.SETTING,
        ice_chopper.SETTING,
    ),
    questions=(
        *boatshed_chain.QUESTIONS,
        *lamp_turner.QUESTIONS,
        *net_shaker.QUESTIONS,
        *net_shaker_limits.QUESTIONS,
        *net_shaker_code.QUESTIONS,
        *ice_chopper.QUESTIONS,
    ),
)
