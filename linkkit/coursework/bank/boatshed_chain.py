"""A slider-crank with another of its links fixed: how each link moves."""

from __future__ import annotations

from ...builders import slider_crank
from ...kinds import motion_kinds
from ..answers import Table
from ..givens import Given, Setting
from ..question import Misconception, Question, Worked, one_by_one

LINKS = ("ground", "crank", "rod", "slider")
KINDS = ("fixed", "fixed-axis rotation", "translation", "combined motion")
STORY = """Take the four links of a slider-crank: the frame (here called ground) with its guide, the crank
OA, the connecting rod AB, and the
slider, pinned to the rod at B and sliding along the guide. In the boatshed the same four links are found
with another one of
them bolted to the floor. Nothing else is changed."""


def chain(g):
    """The slider-crank with the given link fixed."""
    return slider_crank(0.06, 0.2).with_fixed(str(g.fixed))


@one_by_one
def kinds(g):
    """The motion of each link, in the order of LINKS."""
    found = motion_kinds(chain(g))
    return tuple(found[link] for link in LINKS)


def _changed(changes):
    """A misconception: the right table with some kinds taken for others."""
    return one_by_one(lambda g: tuple(changes.get(kind, kind) for kind in kinds(g)))


@one_by_one
def _as_usual(g):
    """The kinds as they are with the ground fixed."""
    found = motion_kinds(slider_crank(0.06, 0.2))
    return tuple(found[link] for link in LINKS)


@one_by_one
def _slider_slides(g):
    """A slider taken to move in a straight line whatever it slides on."""
    return tuple("translation" if link == "slider" else kind for link, kind in zip(LINKS, kinds(g), strict=True))


REASONS = {
    "fixed": "is bolted down",
    "fixed-axis rotation": "is pinned to the fixed link: it can only turn about that pin",
    "translation": "slides on the fixed link: it keeps its direction",
    "combined motion": "is not joined to the fixed link: it moves along and turns at once",
}


def kinds_by_hand(g):
    """By what joins each link to the fixed one."""
    pairs = {
        ("ground", "crank"): "pin",
        ("crank", "rod"): "pin",
        ("rod", "slider"): "pin",
        ("slider", "ground"): "guide",
    }
    joined = {frozenset(pair): how for pair, how in pairs.items()}
    words = {"pin": "fixed-axis rotation", "guide": "translation", None: "combined motion"}
    value = tuple("fixed" if k == g.fixed else words[joined.get(frozenset((k, str(g.fixed))))] for k in LINKS)
    return Worked(tuple(f"{link}: {REASONS[kind]}: {kind}." for link, kind in zip(LINKS, value, strict=True)), value)


SETTING = Setting(
    id="boatshed-chain",
    version=1,
    title="The same four links, another one fixed",
    story=STORY,
    givens=(Given("fixed", "fixed link", ("crank", "rod", "slider")),),
    fits=lambda g: g.fixed != "ground",
    machine=chain,
)

KINDS_OF_LINKS = Question(
    id="link_kinds",
    concept="04-slider",
    version=1,
    setting="boatshed-chain",
    title="How does each link move?",
    marks=4,
    ask="With your link fixed, what kind of motion does each of the four links have?",
    kind=Table(LINKS, KINDS),
    answer=kinds,
    by_hand=kinds_by_hand,
    model="link_kinds = lk.motion_kinds(lk.slider_crank(0.06, 0.2).with_fixed(str(chain.fixed)))",
    misconceptions=(
        Misconception(
            "as-usual",
            _as_usual,
            "These are the motions with the ground fixed. Another link is fixed here: go round the loop "
            "again from that one.",
            1 / 4,
        ),
        Misconception(
            "slider-always-slides",
            _slider_slides,
            "A slider moves in a straight line only on a guide that stands still. Ask what the slider's "
            "neighbours do here.",
            1 / 2,
        ),
        Misconception(
            "no-combined-motion",
            _changed({"combined motion": "fixed-axis rotation"}),
            "A link that is not joined to the fixed link has no fixed axis: it moves along and turns at once.",
            1 / 2,
        ),
    ),
    hint=(
        "Start from the fixed link. What is pinned to it turns about that pin; what slides on it keeps "
        "its direction; the rest does both."
    ),
)

QUESTIONS = (KINDS_OF_LINKS,)
