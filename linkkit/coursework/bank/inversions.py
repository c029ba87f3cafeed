"""Another link fixed: what becomes of a chain of four bars, and of the chain of crank, rod and slider."""

from __future__ import annotations

import numpy as np

from ...builders import four_bar, slider_crank
from ..answers import Choice
from ..givens import Given, Setting
from ..question import Misconception, Question, Worked

BARS = ("ground", "crank", "coupler", "rocker")
CLASSES = ("crank-rocker", "double-crank", "double-rocker", "triple-rocker")
STORY = """Four bars are pinned together in a loop, in the order ground, crank, coupler, rocker, and back to
ground. In the workshop of Marrow Quay the bar named below as fixed is clamped to the bench, whatever it is called.
Drive it by whichever neighbour you like."""

LENGTHS = tuple(range(100, 325, 5))
CHAIN = Setting(
    id="chain-of-bars",
    version=1,
    title="A chain of bars on the bench",
    story=STORY,
    givens=(
        *(Given(f"{name}_mm", name, LENGTHS) for name in BARS),
        Given("fixed", "fixed bar", BARS),
    ),
    fits=lambda g: _fair(g),
    machine=lambda g: four_bar(g.ground, g.crank, g.coupler, g.rocker).with_fixed(str(g.fixed)),
)


def _lengths(g):
    return np.stack([np.asarray(getattr(g, f"{name}_mm")) for name in BARS])


def _excess(g):
    """Shortest + longest less the other two, mm."""
    lengths = _lengths(g)
    return 2 * (lengths.min(axis=0) + lengths.max(axis=0)) - lengths.sum(axis=0)


def _fair(g):
    """The loop closes well, one bar alone is the shortest, and the sums differ; some bar turns fully in most sets."""
    lengths = np.sort(_lengths(g), axis=0)
    closes = lengths[3] <= lengths[:3].sum(axis=0) - 40
    return closes & (lengths[1] - lengths[0] >= 15) & (np.abs(_excess(g)) >= 20)


def inversion_class(g, fixed=None):
    """The class with the given bar fixed, or with another one; the solver, one at a time, is the check on it."""
    return np.where(_excess(g) > 0, "triple-rocker", _by_place(g, fixed))[()]


def _as_if_ground(g):
    """The class with the ground fixed, where that is another one."""
    found = inversion_class(g, "ground")
    return np.where(found != inversion_class(g), found, "")[()]


def _reversed(g):
    """The class with the comparison of the sums turned round."""
    placed = _by_place(g)
    return np.where(_excess(g) > 0, placed, "triple-rocker")[()]


def _by_place(g, fixed=None):
    """The class by where the shortest bar lies from the fixed one, as if it turned fully."""
    fixed = np.vectorize(BARS.index)(g.fixed if fixed is None else fixed)
    away = (_lengths(g).argmin(axis=0) - fixed) % 4
    return np.asarray(("double-crank", "crank-rocker", "double-rocker", "crank-rocker"))[away]


def class_by_hand(g):
    """The sums, then the place of the shortest bar."""
    lengths = {name: int(getattr(g, f"{name}_mm")) for name in BARS}
    short, mid, high, long = sorted(lengths.values())
    step = (
        f"Shortest + longest = {short} + {long} = {short + long} mm; "
        f"the other two make {mid} + {high} = {mid + high} mm."
    )
    if short + long > mid + high:
        return Worked((step, "The first sum is the greater: no bar turns fully, whichever is fixed."), "triple-rocker")
    shortest = min(lengths, key=lengths.get)
    away = (BARS.index(shortest) - BARS.index(str(g.fixed))) % 4
    where = (
        "it is the fixed one",
        "it is beside the fixed one",
        "it is opposite the fixed one",
        "it is beside the fixed one",
    )
    found = ("double-crank", "crank-rocker", "double-rocker", "crank-rocker")[away]
    last = (
        f"The first sum is the smaller: the shortest bar, the {shortest}, turns fully. Here {where[away]}: a {found}."
    )
    return Worked((step, last), found)


INVERSION_CLASS = Question(
    id="inversion_class",
    concept="04-bars",
    version=1,
    setting="chain-of-bars",
    title="Which class with this bar fixed?",
    marks=2,
    ask="Which class is the linkage with this bar fixed?",
    kind=Choice(CLASSES),
    answer=inversion_class,
    by_hand=class_by_hand,
    model="""chain = lk.four_bar(bars.ground, bars.crank, bars.coupler, bars.rocker)
found = lk.facts(chain.with_fixed(str(bars.fixed))).grashof_class
inversion_class = "crank-rocker" if found == "rocker-crank" else found""",
    misconceptions=(
        Misconception(
            "as-if-ground",
            _as_if_ground,
            "That is the class with the bar called ground fixed. Look where the shortest bar lies seen from the bar "
            "that is "
            "clamped here.",
            1 / 4,
        ),
        Misconception(
            "reversed",
            _reversed,
            "The two sums were compared the wrong way round. Some bar turns fully only if shortest + longest is less "
            "than "
            "the other two together.",
        ),
    ),
    hint="Compare shortest + longest with the other two. If a bar turns fully it is the shortest: is it fixed, beside "
         "the "
    "fixed bar, or opposite to it?",
)  # fmt: skip

LINKS = ("ground", "crank", "rod", "slider")
MACHINES = {
    "ground": "slider-crank: a slider on a guide that stands still",
    "crank": "turning guide: crank and guide both go right round",
    "rod": "oscillating cylinder or slotted lever: a guide that swings",
    "slider": "fixed slider: a rod that goes to and fro through it",
}
REASONS = {
    "ground": "The guide stands still and the slider goes to and fro in it, as in the ice chopper.",
    "crank": "The fixed link is the shortest: the links pinned to both its ends, the frame with the guide and the "
    "rod, can "
    "go right round, as in a quick return with a turning guide.",
    "rod": "The slider is pinned to the fixed link, so it can only rock, and the guide with it, as in the engine of "
    "the "
    "steam launch and in the shaper's lever.",
    "slider": "The block is fixed, and the guide slides through it to and fro, as in the bilge pump.",
}

SLIDER_CHAIN = Setting(
    id="chain-with-slider",
    version=1,
    title="A crank, a rod, a slider and their frame",
    story="Four links make a loop: ground, crank, rod and slider, with the guide on the link called ground. The rod is "
    "much longer than the crank. Now the link named below is bolted down instead of the ground.",
    givens=(
        Given("fixed", "fixed link", LINKS[1:]),
        Given("crank_mm", "crank", tuple(range(40, 85, 5))),
        Given("rod_mm", "rod", tuple(range(160, 260, 10))),
    ),
    fits=lambda g: g.rod > 2 * g.crank,
    machine=lambda g: slider_crank(g.crank, g.rod).with_fixed(str(g.fixed)),
)


def _named(fixed):
    return np.vectorize(MACHINES.get, otypes=[object])(fixed)[()]


def _exchanged(pairs, elsewhere):
    """One link taken for another, where that one is fixed; elsewhere a word that nobody writes."""
    return lambda g: np.vectorize(lambda k: MACHINES.get(pairs.get(k), elsewhere), otypes=[object])(g.fixed)[()]


WHICH_MACHINE = Question(
    id="which_machine",
    concept="04-slider",
    version=1,
    setting="chain-with-slider",
    title="Which machine is it now?",
    marks=2,
    ask="Which kind of machine is it with this link fixed?",
    kind=Choice(tuple(MACHINES.values())),
    answer=lambda g: _named(g.fixed),
    by_hand=lambda g: Worked((REASONS[str(g.fixed)],), MACHINES[str(g.fixed)]),
    model=f"which_machine = {MACHINES}[str(slider.fixed)]",
    misconceptions=(
        Misconception("crank-for-rod", _exchanged({"rod": "crank"}, "(1)"),
                      "For both neighbours to go right round, the fixed link must be the shortest. Which is it "
                      "here?", 1 / 4),
        Misconception("rod-for-crank", _exchanged({"crank": "rod"}, "(2)"),
                      "A guide that only swings needs a fixed link longer than the crank. The fixed link is the "
                      "shortest here.",
                      1 / 4),
        Misconception("as-usual", _exchanged({"crank": "ground", "rod": "ground", "slider": "ground"}, "(3)"),
                      "That is the chain with the ground fixed. See which link is bolted down here, and what its "
                      "neighbours can do."),
    ),
    hint="Ask what is joined to the fixed link and how: what is pinned to it turns or rocks, what slides on it goes "
         "straight.",
)  # fmt: skip

SETTINGS = (CHAIN, SLIDER_CHAIN)
QUESTIONS = (INVERSION_CLASS, WHICH_MACHINE)
