"""Six links in two chains: taken apart into four-link chains, with link numbers of the student's own; prose on why."""

from __future__ import annotations

from itertools import permutations

from ...breakdown import breakdown
from ...machine_file import machine
from ..answers import Choice
from ..givens import Given, Setting
from ..listed import ChainList
from ..question import Misconception, Question, Worked, one_by_one
from ..written import Written

HANGS = {
    "on the same pivoted link": ("lever", "four-bar"),
    "on the link between": ("coupler", "four-bar"),
    "on the same pivoted link, and ends on a block in a fixed guide": ("lever", "slider-crank"),
}
NUMBERS = tuple("".join(order) for order in permutations("23456"))

NUMBERED = Setting(
    id="six-numbered",
    version=1,
    title="Six links with numbers",
    story="A machine has six links; link 1 is the fixed one. Five digits below name the others in this order: the crank, "
    "which is driven; the link between, pinned to it; the pivoted link, pinned to the link between and to link 1; a "
    "further link, pinned where it says below; and the last one, pinned to that. The last one is pinned to link 1 as well, "
    "or it is a block that slides on link 1, if it says so. So with the digits 25364, link 2 is the crank and link 5 the "
    "link between.",
    givens=(
        Given("digits", "digits", NUMBERS),
        Given("hangs", "the further link is pinned", tuple(HANGS)),
    ),
    fits=lambda g: g.digits != "",
)


def chains(g):
    """The two chains, as they are solved."""
    crank, coupler, lever, link, last = str(g.digits)
    hung, kind = HANGS[str(g.hangs)]
    second = {"lever": lever, "coupler": coupler}[hung]
    return ("four-bar", "1", crank, coupler, lever), (kind, "1", second, link, last)


def _slip(change):
    """A misconception about the two chains."""
    return one_by_one(lambda g: change(g, *chains(g)))


def chains_by_hand(g):
    """The method: from the known links to the next two."""
    crank, coupler, lever, link, last = str(g.digits)
    second = coupler if "between" in str(g.hangs) else lever
    kind = "slider-crank" if "guide" in str(g.hangs) else "four-bar"
    steps = (
        f"Known are the fixed link 1 and the crank {crank}. The next two links that hang between them are {coupler} and "
        f"{lever}: a four-bar with the input {crank}, the coupler {coupler} and the output {lever}.",
        f"Now {coupler} and {lever} are known as well. Links {link} and {last} hang between {second} and 1: a {kind} with "
        f"the input {second}, the coupler {link} and the output {last}.",
    )
    return Worked(steps, (("four-bar", "1", crank, coupler, lever), (kind, "1", second, link, last)))


CHAINS_OF_SIX = Question(
    id="chains_of_six",
    version=1,
    concept="05-breakdown",
    setting="six-numbered",
    title="Take it apart",
    marks=5,
    ask="Write down the four-link chains of this machine, each with its kind, its fixed link, input, coupler and output.",
    kind=ChainList(tuple("123456")),
    answer=one_by_one(chains),
    by_hand=chains_by_hand,
    model="""crank, between, pivoted, further, last = str(numbered.digits)
second = between if "between" in str(numbered.hangs) else pivoted
kind = "slider-crank" if "guide" in str(numbered.hangs) else "four-bar"
rows = [("four-bar", "1", crank, between, pivoted), (kind, "1", second, further, last)]
parts = ("kind", "fixed", "input", "coupler", "output")
chains_of_six = [dict(zip(parts, row)) for row in rows]""",
    misconceptions=(
        Misconception("wrong-way-round", _slip(lambda g, a, b: (b, a)),
                      "The chains are right, but stand in the wrong order: begin with the one that the driven link is in.",
                      1 / 2),
        Misconception("crank-drives-both", _slip(lambda g, a, b: (a, (*b[:2], a[2], *b[3:]))),
                      "The crank was taken as the input of both chains. The second chain is driven by the link that it "
                      "hangs on.", 1 / 2),
        Misconception("first-chain-only", _slip(lambda g, a, b: (a,)),
                      "One chain is missing: the last two links hang between a link of the first chain and the fixed one.",
                      1 / 2),
        Misconception("couplers-and-outputs-exchanged",
                      _slip(lambda g, a, b: ((*a[:3], a[4], a[3]), (*b[:3], b[4], b[3]))),
                      "Coupler and output are exchanged: the output is the link that is paired with the fixed one.", 1 / 2),
    ),
    hint="From the known links (1 and the crank) find the next two that hang between them; then go on from there.",
)  # fmt: skip


def second_input(g):
    """The link that drives the second chain."""
    return chains(g)[1][2]


def _role(place):
    """The link at a place of the digits, unless it is the right answer."""
    return one_by_one(lambda g: str(g.digits)[place] if str(g.digits)[place] != second_input(g) else f"(place {place})")


SECOND_INPUT = Question(
    id="second_input",
    version=1,
    concept="05-breakdown",
    setting="six-numbered",
    title="What drives the second chain?",
    marks=1,
    ask="Which link is the input of the second chain?",
    kind=Choice(tuple("123456")),
    answer=one_by_one(second_input),
    by_hand=lambda g: Worked((f"The further link is pinned {g.hangs}.",), chains_by_hand(g).value[1][2]),
    model='second_input = str(numbered.digits)[1 if "between" in str(numbered.hangs) else 2]',
    misconceptions=(
        Misconception("crank", _role(0), "The crank drives the first chain. What comes out of that drives the second."),
        Misconception("other-of-the-chain", one_by_one(lambda g: str(g.digits)[2 if "between" in str(g.hangs) else 1]),
                      "Both links of the first chain are known by then, but the further link is pinned to the other one.",
                      1 / 2),
        Misconception("further-link", _role(3), "The further link is the coupler of the second chain, not its input."),
    ),
    hint="Which link of the first chain is the further link pinned to?",
)  # fmt: skip

WHOLE = ("brine-lift", "fish-press", "boatshed-shaper")
ALL_LINKS = tuple(dict.fromkeys(link for name in WHOLE for link in machine(name).links))

QUAY = Setting(
    id="machine-apart",
    version=1,
    title="A machine of the quay, taken apart",
    story="The picture shows one of the six-link machines of Marrow Quay. Its crank is driven.",
    givens=(Given("machine", "machine", WHOLE),),
    fits=lambda g: g.machine != "",
    machine=lambda g: machine(str(g.machine)),
)


def quay_chains(g):
    """The chains as the package finds them."""
    return tuple((c.kind, c.fixed, c.input, c.coupler, c.output) for c in breakdown(machine(str(g.machine))))


def _quay_slip(change):
    return one_by_one(lambda g: change(*quay_chains(g)))


BY_SIGHT = {
    "brine-lift": (("four-bar", "frame", "crank", "connecting rod", "beam"),
                   ("slider-crank", "frame", "beam", "hanger", "plunger")),
    "fish-press": (("four-bar", "frame", "crank", "rod", "upper link"),
                   ("slider-crank", "frame", "upper link", "lower link", "platen")),
    "boatshed-shaper": (("inverted slider-crank", "frame", "crank", "block", "lever"),
                        ("slider-crank", "frame", "lever", "link", "ram")),
}  # fmt: skip

QUAY_CHAINS = Question(
    id="quay_chains",
    version=1,
    concept="05-breakdown",
    setting="machine-apart",
    title="Its four-link chains",
    marks=5,
    ask="Write down the four-link chains of this machine in the order in which they are solved.",
    kind=ChainList(ALL_LINKS),
    answer=one_by_one(quay_chains),
    by_hand=lambda g: Worked(
        tuple(f"{c[0]}: {c[2]} moves {c[4]} through {c[3]}, seen from {c[1]}." for c in BY_SIGHT[str(g.machine)]),
        BY_SIGHT[str(g.machine)],
    ),
    model="""parts = ("kind", "fixed", "input", "coupler", "output")
quay_chains = [{part: getattr(chain, part) for part in parts} for chain in lk.breakdown(lk.machine(str(apart.machine)))]""",
    misconceptions=(
        Misconception("wrong-way-round", _quay_slip(lambda a, b: (b, a)),
                      "The chains are right, but in the wrong order: begin with the one that the crank is in.", 1 / 2),
        Misconception("crank-drives-both", _quay_slip(lambda a, b: (a, (*b[:2], a[2], *b[3:]))),
                      "The crank drives the first chain only. What comes out of it is the input of the second.", 1 / 2),
        Misconception("all-four-bars", _quay_slip(lambda a, b: (("four-bar", *a[1:]), ("four-bar", *b[1:]))),
                      "Not every chain of four links is a four-bar: see which of them contain a slide, and where it is.",
                      1 / 2),
    ),
    hint="Begin with the frame and the crank; find the two links that hang between them, then the next two.",
)  # fmt: skip

WHY = "Each chain takes from the one before only the place of one link. With that known, it is a four-link chain with one "
WHY_IN_SERIES = Question(
    id="why_in_series",
    version=1,
    concept="05-breakdown",
    setting="machine-apart",
    title="Why does it work?",
    marks=3,
    ask="Say in three or four sentences why the machine of this picture can be solved one chain after the other, and what "
    "would have to be different so that it could not.",
    kind=Written(
        (("what one chain hands on to the next", 1), ("why two further links add no freedom", 1),
         ("a condition under which no two further links hang between known ones", 1))
    ),
    answer=lambda g: WHY + "input; its two further links are found from two distances. If no two of the links left hang "
    "between known ones (a loop of three or more unknown links), there is nothing to begin the next chain with.",
    by_hand=lambda g: Worked(
        ("Two links, three pairs: 3 × 2 − 2 × 3 = 0 freedoms are added, so the mobility stays as it is.",),
        WHY_IN_SERIES.answer(g),
    ),
    model="Each chain hands on the place of one link; two further links with three pairs add no freedom. It fails when no "
    "two of the links left hang between links that are known.",
    misconceptions=(),
    hint="Think of the two links of a chain and the three pairs that come with them.",
)  # fmt: skip

SETTINGS = (NUMBERED, QUAY)
QUESTIONS = (CHAINS_OF_SIX, SECOND_INPUT, QUAY_CHAINS, WHY_IN_SERIES)
