"""The machines of Marrow Quay, looked at: their links, pairs and mobility, and how each link moves."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ...kinds import motion_kinds
from ...machine_file import machine, machines
from ...mobility import mobility
from ..answers import Choice, Number
from ..givens import Given, Setting
from ..question import Misconception, Question, Worked, one_by_one
from ..tolerance import Tolerance

KINDS = ("fixed", "fixed-axis rotation", "translation", "combined motion")


@dataclass(frozen=True)
class Whole(Tolerance):
    """A number that was counted."""

    def sentence(self, unit: str) -> str:
        """What the student is told."""
        return "A whole number."


COUNTED = Number("", Whole(0.0, 0.01, False, "count"))


def looked_at(g):
    """The machine in the picture."""
    return machine(str(g.machine))


def _counted(count):
    """A count for one machine, as a function of givens that may be arrays."""
    each = one_by_one(lambda g: float(count(looked_at(g))))
    return lambda g: np.asarray(each(g), dtype=float)[()]


def pins(linkage):
    """How many places have a pin, however many links it joins."""
    return len({pair.at for pair in linkage.pairs if pair.kind == "turning"})


def slides(linkage):
    """How many sliding pairs there are."""
    return len(linkage.slides)


def _if_other(count, other):
    """A mistaken count where it differs from another; no number where it does not."""
    return _counted(lambda m: count(m) if count(m) != other(m) else np.nan)


def links(linkage):
    """How many links there are, the fixed one among them."""
    return len(linkage.links)


def pairs(linkage):
    """How many turning and sliding pairs there are."""
    return len(linkage.pairs)


LOOKED_AT = Setting(
    id="quay-machine",
    version=1,
    title="One of the machines of Marrow Quay",
    story=("The picture shows one of the machines of Marrow Quay. Hatching marks what belongs to the fixed link."),
    givens=(Given("machine", "machine", tuple(machines())),),
    fits=lambda g: g.machine != "",
    machine=looked_at,
)


def links_by_hand(g):
    """The list of the links."""
    named = list(looked_at(g).links)
    return Worked((f"The links are {', '.join(named)}: {len(named)}.",), float(len(named)))


LINK_COUNT = Question(
    id="link_count",
    concept="01-pairs",
    version=1,
    setting="quay-machine",
    title="How many links?",
    marks=1,
    ask="How many links does this machine have?",
    kind=COUNTED,
    answer=_counted(links),
    by_hand=links_by_hand,
    model="link_count = len(lk.machine(str(machine.machine)).links)",
    misconceptions=(
        Misconception(
            "fixed-left-out",
            _counted(lambda m: links(m) - 1),
            "You are one short. The fixed link is a link too: everything that is hatched counts as one.",
        ),
        Misconception(
            "blocks-left-out",
            _counted(lambda m: links(m) - slides(m) if slides(m) > 1 else np.nan),
            "The sliding blocks are missing. A block that slides is a link like any other.",
        ),
        Misconception(
            "each-stand-a-link",
            _if_other(lambda m: links(m) + len(m.links[m.fixed]) - 1, links),
            "Each stand was counted as a link of its own. All stands and fixed guides are one body, the fixed link.",
        ),
    ),
    hint=("Point at each body that moves by itself, block by block and bar by bar; then add one for the fixed link."),
)


def pairs_by_hand(g):
    """Pair by pair."""
    m = looked_at(g)
    steps = tuple(f"{p.at}: {p.kind}, between {p.links[0]} and {p.links[1]}." for p in m.pairs)
    return Worked((*steps, f"Together {len(steps)}."), float(len(steps)))


PAIR_COUNT = Question(
    id="pair_count",
    concept="01-pairs",
    version=1,
    setting="quay-machine",
    title="How many pairs?",
    marks=1,
    ask="How many turning and sliding pairs does this machine have together?",
    kind=COUNTED,
    answer=_counted(pairs),
    by_hand=pairs_by_hand,
    model="pair_count = len(lk.machine(str(machine.machine)).pairs)",
    misconceptions=(
        Misconception(
            "shared-pin-once",
            _if_other(lambda m: pins(m) + slides(m), pairs),
            "A pin here joins three links. The second and the third are each paired with the first: that "
            "pin is two pairs.",
        ),
        Misconception(
            "slides-left-out",
            _if_other(lambda m: pairs(m) - slides(m), lambda m: pins(m) + slides(m)),
            "The sliding pairs are missing. A block on its guide is a pair too.",
        ),
        Misconception(
            "fixed-pins-left-out",
            _if_other(lambda m: len([p for p in m.pairs if m.fixed not in p.links]), pairs),
            "The pairs with the fixed link are missing. A pin in a stand is a pair like any other.",
        ),
    ),
    hint="Go from pin to pin and from block to guide, and write down which two links meet there.",
)


def mobility_by_hand(g):
    """The count of Kutzbach."""
    m = looked_at(g)
    n, p = links(m), pairs(m)
    steps = (
        f"{n} links, one of them fixed: {n - 1} moving links, with three freedoms each, {3 * (n - 1)}.",
        f"{p} pairs, each takes two away: {2 * p}.",
        f"{3 * (n - 1)} − {2 * p} = {3 * (n - 1) - 2 * p}.",
    )
    return Worked(steps, float(3 * (n - 1) - 2 * p))


MOBILITY_COUNT = Question(
    id="mobility_count",
    concept="01-mobility",
    version=1,
    setting="quay-machine",
    title="How many inputs does it need?",
    marks=2,
    ask="Find the mobility of this machine by counting.",
    kind=COUNTED,
    answer=_counted(mobility),
    by_hand=mobility_by_hand,
    model="mobility_count = lk.mobility(lk.machine(str(machine.machine)))",
    misconceptions=(
        Misconception(
            "fixed-counted",
            _counted(lambda m: 3 * links(m) - 2 * pairs(m)),
            "The fixed link was given three freedoms as well. It has none: count 3 for each moving link only.",
        ),
        Misconception(
            "one-a-pair",
            _counted(lambda m: 3 * (links(m) - 1) - pairs(m)),
            "Each pair was taken to remove one freedom. A turning or a sliding pair leaves one and removes two.",
        ),
        Misconception(
            "shared-pin-once",
            _if_other(lambda m: 3 * (links(m) - 1) - 2 * (pins(m) + slides(m)), mobility),
            "A pin that joins three links was counted once. It is two pairs.",
        ),
    ),
    hint="Mobility = 3 × (links − 1) − 2 × (pairs). Count the links with the fixed one, then the pairs.",
)


def _spots():
    """Every link of every machine, as one word each."""
    return tuple(f"{name}: {link}" for name in machines() for link in machine(name).links)


def _spot(g):
    name, link = str(g.link).split(": ")
    return machine(name), link


@one_by_one
def kind_of(g):
    """How the link moves."""
    m, link = _spot(g)
    return motion_kinds(m)[link]


def _instead(right, taken, says, code):
    """A misconception: `taken` written for a link whose motion is `right`; elsewhere a word that nobody writes."""
    return Misconception(code, one_by_one(lambda g: taken if kind_of(g) == right else f"({code})"), says)


REASONS = {
    "fixed": "It is the fixed link.",
    "fixed-axis rotation": "It is paired with the fixed link by a pin: every point of it goes round that pin.",
    "translation": "It keeps its direction: all its points move alike.",
    "combined motion": "It has no pair with the fixed link that would guide it: it moves along and turns at once.",
}

ONE_LINK = Setting(
    id="quay-link",
    version=1,
    title="One link of a machine",
    story=(
        "The picture shows one of the machines of Marrow Quay. Look at the link named below while the machine runs."
    ),
    givens=(Given("link", "machine and link", _spots()),),
    fits=lambda g: np.asarray(kind_of(g) != "fixed"),
    machine=lambda g: _spot(g)[0],
)

LINK_MOTION = Question(
    id="link_motion",
    concept="01-motion",
    version=1,
    setting="quay-link",
    title="How does this link move?",
    marks=1,
    ask="What kind of motion does this link have?",
    kind=Choice(KINDS),
    answer=kind_of,
    by_hand=lambda g: Worked((REASONS[kind_of(g)],), kind_of(g)),
    model='name, link = str(link.link).split(": ")\nlink_motion = lk.motion_kinds(lk.machine(name))[link]',
    misconceptions=(
        _instead("combined motion", "fixed-axis rotation",
                 "It does turn, but find the point that it turns about: is there one that stands still all the "
                 "time?", "no-axis"),
        _instead("combined motion", "translation",
                 "Its points move along, but its direction changes as well. In a translation it would not.",
                 "turns-too"),
        _instead("fixed-axis rotation", "combined motion",
                 "One of its points never moves: the pin in the stand. Then all the others go round that pin.",
                 "has-an-axis"),
        _instead("fixed-axis rotation", "translation",
                 "A link that is pinned to a stand can only turn about that pin. Going to and fro is not "
                 "yet a translation.",
                 "to-and-fro"),
        _instead("translation", "fixed-axis rotation",
                 "Going to and fro is not yet turning. Does the direction of this link change?", "does-not-turn"),
        _instead("translation", "combined motion",
                 "Its guide stands still and keeps its direction. Then it cannot turn, and all its points "
                 "move alike.",
                 "guided"),
    ),
    hint="Ask two things: does one point of it stand still? Does its direction change?",
)  # fmt: skip

SETTINGS = (LOOKED_AT, ONE_LINK)
QUESTIONS = (LINK_COUNT, PAIR_COUNT, MOBILITY_COUNT, LINK_MOTION)
