"""More to look at on the machines of Marrow Quay: links with three joints, links in combined motion, the output."""

from __future__ import annotations

from ...kinds import motion_kinds
from ..answers import Choice
from ..question import Misconception, Question, Worked, one_by_one
from .quay_machines import COUNTED, KINDS, _counted, _if_other, looked_at


def joints(m, link):
    """The pins and slides that a link has with others."""
    return {pair.at for pair in m.pairs if link in pair.links}


def three_jointed(m):
    """How many links have three joints or more, the fixed one included."""
    return sum(len(joints(m, link)) >= 3 for link in m.links)


def three_by_hand(g):
    """Link by link."""
    m = looked_at(g)
    counts = {link: len(joints(m, link)) for link in m.links}
    steps = (", ".join(f"{link}: {n}" for link, n in counts.items()) + ".",)
    return Worked(steps, float(sum(n >= 3 for n in counts.values())))


THREE_JOINTED = Question(
    id="three_jointed",
    version=1,
    concept="01-pairs",
    setting="quay-machine",
    title="Links with three joints",
    marks=1,
    ask="How many links of this machine, the fixed one included, have three joints or more? A joint is a place where "
    "the link is pinned to or slides on another; a pin that several links share is one joint of each.",
    kind=COUNTED,
    answer=_counted(three_jointed),
    by_hand=three_by_hand,
    model="m = lk.machine(str(machine.machine))\n"
    "joints = [{pair.at for pair in m.pairs if link in pair.links} for link in m.links]\n"
    "three_jointed = sum(len(at) >= 3 for at in joints)",
    misconceptions=(
        Misconception(
            "fixed-left-out",
            _if_other(lambda m: three_jointed(m) - (len(joints(m, m.fixed)) >= 3), three_jointed),
            "The fixed link has three joints as well: count its pins and guides like those of any other link.",
        ),
        Misconception(
            "two-are-enough",
            _counted(lambda m: len(m.links)),
            "Every link in a closed chain has two joints. Count those with a third.",
        ),
    ),
    hint="Take the links one after the other and count the places where each is joined to another.",
)  # fmt: skip


def motions(m):
    """How each link moves, from what joins it to the fixed one: a pin, a guide or nothing."""
    joined = {link: p.kind for p in m.pairs if m.fixed in p.links for link in p.links}
    words = {"turning": "fixed-axis rotation", "sliding": "translation", None: "combined motion"}
    return {link: "fixed" if link == m.fixed else words[joined.get(link)] for link in m.links}


def many(kind):
    """A count of the links with one kind of motion."""
    return lambda m: list(motion_kinds(m).values()).count(kind)


def combined_by_hand(g):
    """The links that are not paired with the fixed one."""
    free = [link for link, kind in motions(looked_at(g)).items() if kind == "combined motion"]
    return Worked((f"Not paired with the fixed link: {', '.join(free)}.",), float(len(free)))


COMBINED_COUNT = Question(
    id="combined_count",
    version=1,
    concept="01-motion",
    setting="quay-machine",
    title="How many links are in combined motion?",
    marks=1,
    ask="How many links of this machine are in combined motion?",
    kind=COUNTED,
    answer=_counted(many("combined motion")),
    by_hand=combined_by_hand,
    model='kinds = lk.motion_kinds(lk.machine(str(machine.machine)))\n'
    'combined_count = list(kinds.values()).count("combined motion")',
    misconceptions=(
        Misconception(
            "all-that-moves",
            _counted(lambda m: len(m.links) - 1),
            "These are all the moving links. Leave out those that a fixed pin or a fixed guide holds to one simple motion.",
        ),
        Misconception(
            "all-that-turns",
            _if_other(lambda m: many("combined motion")(m) + many("fixed-axis rotation")(m),
                      lambda m: len(m.links) - 1),
            "Links that turn about a fixed pin were counted as well. Theirs is a fixed-axis rotation.",
        ),
    ),
    hint="A link in combined motion is paired neither by a pin nor by a slide with the fixed link.",
)  # fmt: skip


@one_by_one
def output_kind(g):
    """How the output link moves."""
    m = looked_at(g)
    return motion_kinds(m)[m.output]


def _taken(right, taken):
    return one_by_one(lambda g: taken if output_kind(g) == right else f"({right}, {taken})")


def output_by_hand(g):
    """From what joins the output to the fixed link."""
    m = looked_at(g)
    found = motions(m)[m.output]
    return Worked((f"The output is the {m.output}.", f"By what pairs it with the fixed link it is in {found}."), found)


OUTPUT_MOTION = Question(
    id="output_motion",
    version=1,
    concept="01-motion",
    setting="quay-machine",
    title="What comes out?",
    marks=1,
    ask="Find the link that does the machine's work, its output. How does it move?",
    kind=Choice(KINDS),
    answer=output_kind,
    by_hand=output_by_hand,
    model="m = lk.machine(str(machine.machine))\noutput_motion = lk.motion_kinds(m)[m.output]",
    misconceptions=(
        Misconception("rocking-is-straight", _taken("fixed-axis rotation", "translation"),
                      "It goes to and fro, but about a pin: every point of it moves on an arc."),
        Misconception("straight-is-turning", _taken("translation", "fixed-axis rotation"),
                      "Nothing of it turns: it is guided, and keeps its direction."),
        Misconception("not-guided", _taken("combined motion", "translation"),
                      "Its points move on different paths and it changes its direction: no guide holds it."),
        Misconception("no-fixed-pin", _taken("combined motion", "fixed-axis rotation"),
                      "It is pinned to moving links only: no point of it stands still."),
    ),
    hint="Find what joins the output to the fixed link: a pin, a guide, or nothing.",
)  # fmt: skip

QUESTIONS = (THREE_JOINTED, COMBINED_COUNT, OUTPUT_MOTION)
