"""Four bars of any lengths: which of them can turn, by the sums of the lengths."""

from __future__ import annotations

import numpy as np

from ...builders import four_bar
from ..answers import Choice
from ..givens import Given, Setting, kept
from ..question import Misconception, Question, Worked

NAMES = ("ground", "crank", "coupler", "rocker")
CLASSES = ("crank-rocker", "rocker-crank", "double-crank", "double-rocker", "triple-rocker", "change point")
MEANINGS = """crank-rocker: the driven link turns fully and the following one does not; rocker-crank: the
other way round; double-crank: both
turn fully; double-rocker: neither does, but the coupler turns fully against them; triple-rocker: no link
turns fully against any
other; change point: shortest + longest equals the other two"""
STORY = """{what} Its four lengths are below, in the order of the loop: the fixed link, the link that is
driven, the coupler, and
the link that follows. Which of them turn fully is decided by the lengths alone.

*The words:* {meanings}."""

LENGTHS = tuple(range(100, 325, 5))
TABLE = (
    Given("ground_mm", "fixed link", LENGTHS),
    Given("crank_mm", "driven link", LENGTHS),
    Given("coupler_mm", "coupler", LENGTHS),
    Given("rocker_mm", "following link", LENGTHS),
)


@kept
def bar(g):
    """The linkage of these numbers, or the family of them."""
    return four_bar(g.ground, g.crank, g.coupler, g.rocker)


def grashof_class(g):
    """The class, from the whole millimetres: the solver, one linkage at a time, is the check on it."""
    excess, place = sums(g)
    return np.select([excess > 0, excess == 0], ["triple-rocker", "change point"], by_place(place))[()]


def sums(g):
    """Shortest + longest less the other two (mm), and the place of the shortest in NAMES."""
    lengths = np.stack([getattr(g, f"{name}_mm") for name in NAMES])
    excess = 2 * (lengths.min(axis=0) + lengths.max(axis=0)) - lengths.sum(axis=0)
    return excess, lengths.argmin(axis=0)


def _closes(g):
    """The loop closes with something to spare, and one link alone is the shortest."""
    lengths = np.sort(np.stack([getattr(g, f"{name}_mm") for name in NAMES]), axis=0)
    return (lengths[3] <= lengths[:3].sum(axis=0) - 40) & (lengths[1] - lengths[0] >= 15)


def by_place(place):
    """The class of a loop in which one link turns fully, by the place of the shortest link."""
    return np.asarray(("double-crank", "crank-rocker", "double-rocker", "rocker-crank"))[place]


def reversed_class(g):
    """The sums compared the wrong way round; equal sums taken for too long a shortest and longest."""
    excess, place = sums(g)
    return np.where(excess > 0, by_place(place), "triple-rocker")


def careless_equality(g):
    """Equal sums taken for a full turn, and nearly equal ones for equal."""
    excess, place = sums(g)
    return np.where(excess == 0, by_place(place), "change point")


def class_by_hand(g):
    """The four lengths in order of size, and the two sums."""
    lengths = {name: int(getattr(g, f"{name}_mm")) for name in NAMES}
    short, mid, high, long = sorted(lengths.values())
    words = {"ground": "fixed link", "crank": "driven link", "coupler": "coupler", "rocker": "following link"}
    first, second = short + long, mid + high
    steps = [
        f"Shortest + longest = {short} + {long} = {first} mm; the other two together are {mid} + {high} = {second} mm."
    ]
    if first > second:
        return Worked((*steps, "The first sum is the greater: no link turns fully."), "triple-rocker")
    if first == second:
        return Worked((*steps, "The sums are equal: all four links can come into one line."), "change point")
    shortest = min(lengths, key=lengths.get)
    found = {
        "ground": "double-crank",
        "crank": "crank-rocker",
        "coupler": "double-rocker",
        "rocker": "rocker-crank",
    }[shortest]
    last = (
        "The first sum is the smaller: the shortest link turns fully against the others. "
        f"It is the {words[shortest]}: a {found}."
    )
    return Worked((*steps, last), found)


MODEL = """
bars = lk.four_bar({0}.ground, {0}.crank, {0}.coupler, {0}.rocker)
{1} = lk.facts(bars).grashof_class
"""
REVERSED = Misconception(
    "reversed",
    reversed_class,
    "The two sums were compared the wrong way round. A link turns fully only if shortest + longest is "
    "less than the other two together.",
)

LAMP_TURNER = Setting(
    id="lamp-turner",
    version=1,
    title="The lamp turner",
    story=STORY.format(what="The harbour light is turned by a loop of four bars.", meanings=MEANINGS),
    givens=TABLE,
    fits=lambda g: _closes(g) & (sums(g)[0] <= -20),
    machine=bar,
)

CLASS_OF_LAMP = Question(
    id="lamp_class",
    concept="02-class",
    model=MODEL.format("turner", "lamp_class"),
    version=1,
    setting="lamp-turner",
    title="Which links turn fully?",
    marks=2,
    ask="Which class is the lamp turner, with the fixed link as it is?",
    kind=Choice(CLASSES),
    answer=grashof_class,
    by_hand=class_by_hand,
    misconceptions=(
        REVERSED,
        Misconception(
            "wrong-fixed-link",
            lambda g: by_place((sums(g)[1] + 1) % 4),
            "The sums are right; the shortest link was then put one place further round the loop. See "
            "where it stands in the list: fixed, driven, coupler or following.",
            1 / 2,
        ),
    ),
    hint=(
        "First compare shortest + longest with the other two. Then see which link is the shortest: fixed, "
        "beside the fixed one, or opposite to it."
    ),
)

HATCH_CLOSER = Setting(
    id="hatch-closer",
    version=1,
    title="The hatch closer",
    story=STORY.format(what="A hatch on the quay is closed by a loop of four bars.", meanings=MEANINGS),
    givens=TABLE,
    fits=lambda g: _closes(g) & np.isin(sums(g)[0], (-10, 0, 10)),
    machine=bar,
)

CLASS_OF_HATCH = Question(
    id="hatch_class",
    concept="02-class",
    model=MODEL.format("closer", "hatch_class"),
    version=1,
    setting="hatch-closer",
    title="A close thing",
    marks=2,
    ask="Which class is the hatch closer? Its lengths make it a near thing, so compare exactly.",
    kind=Choice(CLASSES),
    answer=grashof_class,
    by_hand=class_by_hand,
    misconceptions=(
        REVERSED,
        Misconception(
            "careless-equality",
            careless_equality,
            "Equal sums are a class of their own, and nearly equal sums are not equal. Add the lengths exactly.",
        ),
    ),
    hint=(
        "Write the four lengths in order of size, add the outer two and the inner two, and compare the sums exactly."
    ),
)

SETTINGS = (LAMP_TURNER, HATCH_CLOSER)
QUESTIONS = (CLASS_OF_LAMP, CLASS_OF_HATCH)
