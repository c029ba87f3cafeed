"""Mobility by counting, from numbers alone, and where the count goes wrong."""

from __future__ import annotations

import numpy as np

from ..answers import Number
from ..givens import Given, Setting
from ..question import Misconception, Question, Worked
from .quay_machines import Whole

COUNT = Number("", Whole(0.0, 0.01, False, "count"))


def freedom(links, pairs):
    """The count: three freedoms a moving link, two lost a pair (Kutzbach; any text on mechanisms)."""
    return 3.0 * (links - 1) - 2.0 * pairs


COUNTED = Setting(
    id="counted-parts",
    version=1,
    title="A machine on a list of parts",
    story="Of a planar machine on the quay there is only a list: its links (the fixed one is one of them), its pins that "
    "join two links each, its pins that join three links each, and its sliding blocks on guides.",
    givens=(
        Given("links", "links", tuple(range(6, 15))),
        Given("pins", "pins joining two links", tuple(range(4, 13))),
        Given("shared", "pins joining three links", (1, 2, 3)),
        Given("slides", "sliding pairs", (1, 2, 3)),
    ),
    fits=lambda g: np.isin(freedom(g.links, g.pins + 2 * g.shared + g.slides), (1, 2, 3)),
)


def count_by_hand(g):
    """A shared pin is two pairs."""
    pairs = g.pins + 2 * g.shared + g.slides
    found = 3 * (g.links - 1) - 2 * pairs
    steps = (
        f"A pin that joins three links is two pairs: {g.pins} + 2 × {g.shared} + {g.slides} = {pairs} pairs.",
        f"Mobility = 3 × ({g.links} − 1) − 2 × {pairs} = {found}.",
    )
    return Worked(steps, float(found))


MOBILITY_OF_COUNTS = Question(
    id="mobility_of_counts",
    version=1,
    concept="01-mobility",
    setting="counted-parts",
    title="Mobility from the list",
    marks=2,
    ask="What is the mobility of this machine by counting?",
    kind=COUNT,
    answer=lambda g: freedom(g.links, g.pins + 2 * g.shared + g.slides),
    by_hand=count_by_hand,
    model="pairs = parts.pins + 2 * parts.shared + parts.slides\nmobility_of_counts = 3 * (parts.links - 1) - 2 * pairs",
    misconceptions=(
        Misconception("shared-pin-once", lambda g: freedom(g.links, g.pins + g.shared + g.slides),
                      "A pin that joins three links was counted as one pair. The third link adds a second pair.", 1 / 2),
        Misconception("fixed-counted", lambda g: freedom(g.links + 1, g.pins + 2 * g.shared + g.slides),
                      "The fixed link was given three freedoms. It has none: only links − 1 of them move.", 1 / 2),
        Misconception("slide-frees-two", lambda g: freedom(g.links, g.pins + 2 * g.shared + g.slides) + g.slides,
                      "A sliding pair was taken to leave two freedoms. The block can only move along: it loses two.",
                      1 / 2),
        Misconception("one-a-pair", lambda g: 3.0 * (g.links - 1) - (g.pins + 2 * g.shared + g.slides),
                      "Each pair was taken to remove one freedom. A pin or a slide leaves one of three: it removes two."),
    ),
    hint="Turn the list into a number of pairs first: a pin that joins k links is k − 1 pairs.",
)  # fmt: skip

WANTED = Setting(
    id="pairs-for-links",
    version=1,
    title="A machine still to be built",
    story="A closed planar chain with mobility 1 is to be built from links, pins and sliding pairs.",
    givens=(Given("links", "links, the fixed one among them", (6, 8, 10, 12, 14, 16)),),
    fits=lambda g: g.links > 4,
)

PAIRS_WANTED = Question(
    id="pairs_wanted",
    version=1,
    concept="01-mobility",
    setting="pairs-for-links",
    title="How many pairs does it need?",
    marks=1,
    ask="How many pairs must it have, so that counting gives a mobility of 1?",
    kind=COUNT,
    answer=lambda g: (3.0 * g.links - 4) / 2,
    by_hand=lambda g: Worked(
        (
            f"1 = 3 × ({g.links} − 1) − 2 × pairs, so 2 × pairs = {3 * (g.links - 1)} − 1 = {3 * (g.links - 1) - 1}.",
            f"It needs {(3 * (g.links - 1) - 1) // 2} pairs.",
        ),
        float((3 * (g.links - 1) - 1) // 2),
    ),
    model="pairs_wanted = next(p for p in range(100) if 3 * (links.links - 1) - 2 * p == 1)",
    misconceptions=(
        Misconception("one-loop", lambda g: 1.0 * g.links,
                      "As many pairs as links make one single loop. With more than four links that has more than one "
                      "freedom."),
        Misconception("no-freedom-left", lambda g: (3.0 * g.links - 4) / 2 + 1,
                      "That is a pair too many: it takes the last freedom, and more."),
        Misconception("fixed-counted", lambda g: (3.0 * g.links) / 2,
                      "The fixed link was given three freedoms. Only links − 1 of them move."),
    ),
    hint="Write the count for mobility 1 and solve it for the number of pairs.",
)  # fmt: skip

PARALLEL = Setting(
    id="parallel-cranks",
    version=1,
    title="A platform on parallel cranks",
    story="A platform on the quay stays level because it stands on several cranks: all are parallel, of one length, "
    "pinned to the fixed link below and to the platform above, with their pins equally spaced on both.",
    givens=(Given("cranks", "cranks", (3, 4, 5, 6, 7, 8)),),
    fits=lambda g: g.cranks > 2,
)

TOO_MANY = Question(
    id="needless_constraints",
    version=1,
    concept="01-mobility",
    setting="parallel-cranks",
    title="Where the count is wrong",
    marks=2,
    ask="The platform moves with one freedom. By how many does the count fall short of that?",
    kind=COUNT,
    answer=lambda g: 1.0 - freedom(g.cranks + 2, 2 * g.cranks),
    by_hand=lambda g: Worked(
        (
            f"{g.cranks + 2} links (the cranks, the platform, the fixed link) and {2 * g.cranks} pins: "
            f"3 × {g.cranks + 1} − 2 × {2 * g.cranks} = {3 - g.cranks}.",
            f"It has 1: the count falls short by 1 − ({3 - g.cranks}) = {g.cranks - 2}. Two cranks would guide it; each "
            "further one repeats what they demand already.",
        ),
        float(g.cranks - 2),
    ),
    model="needless_constraints = 1 - (3 * (cranks.cranks + 2 - 1) - 2 * 2 * cranks.cranks)",
    misconceptions=(
        Misconception("the-count", lambda g: freedom(g.cranks + 2, 2 * g.cranks),
                      "This is the count itself. By how many is it less than the one freedom that the platform has?", 1 / 2),
        Misconception("from-nothing", lambda g: -freedom(g.cranks + 2, 2 * g.cranks) + 0.0,
                      "This is how far the count is below zero. The platform has one freedom: compare with that.", 1 / 2),
        Misconception("all-but-one", lambda g: g.cranks - 1.0,
                      "One crank alone does not keep the platform level. It takes two; only the others are needless."),
    ),
    hint="Count links and pins, work out the mobility, and compare it with 1.",
)  # fmt: skip

SETTINGS = (COUNTED, WANTED, PARALLEL)
QUESTIONS = (MOBILITY_OF_COUNTS, PAIRS_WANTED, TOO_MANY)
