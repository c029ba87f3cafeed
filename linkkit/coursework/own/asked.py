"""What can be asked of any machine: class, four-link chains, limits, a position, a velocity.

Each function makes one question on a machine drawn for each student (`drawn`). Every wrong answer is a function of the
same numbers; one that does not stand apart on a certain machine is left out by naming its code in `without`.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from ...breakdown import breakdown
from ...errors import LinkageError
from ...facts import grashof
from ...transmission import angles
from ..answers import Choice, Number
from ..listed import CHAIN_KINDS, PARTS, ChainList
from ..question import Misconception, Question, Worked, one_by_one
from ..tolerance import calculated
from . import second_route
from .drawing import Drawn, facts_of, here

CLASSES = ("crank-rocker", "rocker-crank", "double-crank", "double-rocker", "triple-rocker")
BY_SHORTEST = np.array(("double-crank", "crank-rocker", "double-rocker", "rocker-crank"))
EVEN = 1e-3  # of all four lengths: sums that differ by less are not told apart by three figures
STEPS = 360  # positions of a cycle in which the least transmission angle is looked for
TURN = np.arange(STEPS) * (2 * np.pi / STEPS)
SIDE = {"x": "to the right", "y": "upwards"}


def question(setting: Drawn, id: str, wrong: Sequence[Misconception], without: Sequence[str], **more) -> Question:
    """A question on a drawn machine, less the misconceptions that are left out."""
    codes = {known.code for known in wrong}
    if odd := set(without) - codes:
        raise LinkageError(f"question {id} has no wrong answer {', '.join(odd)}; it has {', '.join(sorted(codes))}")
    marks = more["marks"]
    if isinstance(marks, bool) or not isinstance(marks, int | float) or not 0 < marks < np.inf:
        raise LinkageError(f"question {id}: marks is a number above nought, not {marks!r}")
    kept = tuple(known for known in wrong if known.code not in without)
    return Question(id=id, version=more.pop("version", 1), setting=setting.id, misconceptions=kept, **more)


def angle_words(value) -> str:
    """An angle for a step of a worked solution."""
    return f"{np.degrees(value):.2f} degrees"


def one(setting: Drawn, g):
    """The linkage of one student."""
    return setting.machine(g)


# --- class ------------------------------------------------------------------------------------------------------------


def first_class(setting: Drawn, id: str = "its_class", *, marks: float = 2, title: str = "Which links turn fully?",
                ask: str = "", without: Sequence[str] = ()) -> Question:  # fmt: skip
    """The class of the first four-bar chain, by the sums of its lengths."""
    chain = next((c for c in breakdown(setting.linkage) if c.kind == "four-bar"), None)
    if chain is None or not set(chain.pairs) <= set(setting.linkage.points):
        raise LinkageError(f"{setting.title} has no four-bar chain, so no class can be asked for")
    lengths = lambda g: _sides(setting, chain, g)  # noqa: E731
    words = f"{chain.fixed}, {chain.input}, {chain.coupler}, {chain.output}"
    ask = ask or (
        f"Which class is the chain of {words} by the sums of its lengths? Take {chain.fixed} as its fixed link and "
        f"{chain.input} as the one that is driven."
    )
    wrong = (
        Misconception(
            "reversed", lambda g: _class(lengths(g), -1),
            "The two sums were compared the wrong way round: a link turns fully only if shortest + longest is less than the "
            "other two together."),
        Misconception(
            "wrong-fixed-link", lambda g: BY_SHORTEST[(np.argmin(lengths(g), axis=0) + 1) % 4],
            "The sums are right; the shortest link was then put one place further round the loop.", 1 / 2),
    )  # fmt: skip
    return question(
        setting, id, wrong, without, title=title, marks=marks, ask=ask, concept="02-class", kind=Choice(CLASSES),
        answer=lambda g: _class(lengths(g)), by_hand=lambda g: _class_by_hand(lengths(g), chain),
        hint="Measure the four lengths between the pins, compare shortest + longest with the other two, then see which is the "
        "shortest.",
        model=f"p, m = {chain.pairs!r}, machine\nsides = [m.length(p[n - 1], p[n]) for n in range(4)]\n{id} = "
        'lk.facts(lk.four_bar(sides[0], *sides[1:])).grashof_class',
    )  # fmt: skip


def _sides(setting, chain, g):
    """Fixed, input, coupler, output: metres, the first axis runs over the four."""
    points, (o, a, b, q) = setting.machine(g).points, chain.pairs
    return np.stack(np.broadcast_arrays(*(np.abs(points[p] - points[r]) for p, r in ((o, q), (o, a), (a, b), (b, q)))))


def _class(sides, sign=1):
    """By Grashof's sums; with `sign` -1 the sums are compared the wrong way round. Too near to call is no class: ""."""
    spare = sides.sum(axis=0) - 2 * (sides.min(axis=0) + sides.max(axis=0))
    named = np.where(sign * spare > 0, BY_SHORTEST[np.argmin(sides, axis=0)], "triple-rocker")
    named = np.where(np.abs(spare) < EVEN * sides.sum(axis=0), "", named)
    return named[()]


def _class_by_hand(sides, chain):
    short, mid, high, long = np.sort(1000 * sides)
    names = (chain.fixed, chain.input, chain.coupler, chain.output)
    found = grashof(*map(float, sides))[0]
    steps = (
        "Lengths: " + ", ".join(f"{name} {1000 * side:.1f} mm" for name, side in zip(names, sides, strict=True)) + ".",
        f"Shortest + longest = {short:.1f} + {long:.1f} = {short + long:.1f} mm; the other two are {mid + high:.1f} mm.",
        f"The shortest is {names[int(np.argmin(sides))]}: {found}.",
    )
    return Worked(steps, found)


# --- chains -----------------------------------------------------------------------------------------------------------


def four_link_chains(setting: Drawn, id: str = "its_chains", *, marks: float = 4, title: str = "Take it apart", ask: str = "",
                     without: Sequence[str] = ()) -> Question:  # fmt: skip
    """The four-link chains of the machine, in the order in which they are solved."""
    chains = tuple((c.kind, c.fixed, c.input, c.coupler, c.output) for c in breakdown(setting.linkage))
    if any(None in chain or chain[0] not in CHAIN_KINDS for chain in chains):
        raise LinkageError(f"{setting.title} does not come apart into four-link chains, so they cannot be asked for")
    changed = lambda change: one_by_one(lambda g: change(chains))  # noqa: E731
    wrong = [
        Misconception("coupler-and-output-exchanged", changed(lambda c: tuple((*k[:3], k[4], k[3]) for k in c)),
                      "Coupler and output are exchanged: the output is the link that is paired with the chain's fixed one.", 1 / 2),
        Misconception("driver-as-fixed", changed(lambda c: tuple((k[0], k[2], k[1], *k[3:]) for k in c)),
                      "Fixed link and input are exchanged.", 1 / 2),
    ]  # fmt: skip
    if len(chains) > 1:
        wrong += [
            Misconception("wrong-way-round", changed(lambda c: c[::-1]),
                          "The chains are right, but in the wrong order: begin with the one that the driven link is in.", 1 / 2),
            Misconception("first-chain-only", changed(lambda c: c[:1]),
                          "A chain is missing: which two links hang from those that are known by now?", 1 / 2),
        ]  # fmt: skip
    return question(
        setting, id, wrong, without, title=title, marks=marks, concept="05-breakdown", kind=ChainList(tuple(setting.linkage.links)),
        ask=ask or "Write down the four-link chains of this machine in the order in which they are solved.",
        answer=changed(lambda c: c), by_hand=lambda g: Worked(_chain_steps(setting), _by_neighbours(setting)),
        hint="Begin with the fixed link and what is driven; find the two links that hang between them, then the next two.",
        model=f'{id} = [{{part: getattr(chain, part) for part in {PARTS}}} for chain in lk.breakdown(machine)]',
    )  # fmt: skip


def _chain_steps(setting):
    return tuple(f"{c.kind.capitalize()}: {c.note}." for c in breakdown(setting.linkage))


def _by_neighbours(setting):
    """The chains from the pairs alone: input and output are paired with the chain's fixed link, the coupler is not.

    Which of the two is the input follows from what is known by then.
    """
    found, known = [], set(_first_known(setting.linkage))
    for c in breakdown(setting.linkage):
        loop = {c.fixed, c.input, c.coupler, c.output}
        meetings = [_joined_at(setting.linkage, at, loop) for at in c.pairs]
        beside = {link for meeting in meetings if c.fixed in meeting for link in meeting} - {c.fixed}
        given = next(iter(beside & known), c.input)
        output, coupler = (beside - {given}).pop(), (loop - beside - {c.fixed}).pop()
        found.append((c.kind, c.fixed, given, coupler, output))
        known |= loop
    return tuple(found)


def _first_known(linkage):
    """The fixed link, and what the inputs drive against it."""
    return {linkage.fixed}.union(*(i.links for i in linkage.inputs if linkage.fixed in i.links))


def _joined_at(linkage, at, loop):
    """The links of a chain that meet at a pin or slide; what an input joins rigidly counts as one."""
    meet = set(linkage.carriers[at]) if at in linkage.points else {linkage.slide(at).on, linkage.slide(at).block}
    return {other if other in loop else _twin(linkage, other, loop) for other in meet} & loop


def _twin(linkage, link, loop):
    return next((k for i in linkage.inputs if link in i.links for k in i.links if k in loop), link)


# --- transmission ---------------------------------------------------------------------------------------------------


def least_transmission(setting: Drawn, id: str = "its_transmission", *, marks: float = 3, title: str = "How well does it push?",
                       ask: str = "", without: Sequence[str] = ()) -> Question:  # fmt: skip
    """The least transmission angle over the whole turn of the input, folded to 90 degrees at most."""
    if not setting.turning:
        raise LinkageError("the least transmission angle is asked for over a whole turn of a pin")
    cycle = lambda g: _folded(setting.moved(g, TURN, cycle=True))  # noqa: E731
    wrong = (
        Misconception("at-your-input", lambda g: _folded(setting.moved(g)),
                      "This is the transmission angle at your position of the input. Its least value over the turn is asked for.",
                      1 / 3),
        Misconception("greatest", lambda g: cycle(g).max(axis=-1), "This is the greatest. The least one decides.", 1 / 3),
    )  # fmt: skip
    return question(
        setting, id, wrong, without, title=title, marks=marks, concept="02-transmission", kind=Number("deg", calculated("deg")),
        ask=ask or "What is the least transmission angle over a whole turn of the input, folded so that it does not exceed 90 degrees?",
        answer=lambda g: cycle(g).min(axis=-1), by_hand=lambda g: _transmission_by_hand(setting, g),
        hint="Between coupler and output link; in a four-bar it is least or greatest where the crank lies along the fixed link.",
        model=f"low, high = lk.facts(machine).transmission_angle\n{id} = (min(low, np.pi - high), \"rad\")",
    )  # fmt: skip


def _folded(motion):
    """The worst of the chains, folded."""
    return np.min([np.minimum(a, np.pi - a) for a in angles(motion)], axis=0)


def _transmission_by_hand(setting, g):
    low, high = facts_of(setting, g).transmission_angle
    value = min(low, np.pi - high)
    steps = (
        f"Over the turn it goes from {angle_words(low)} to {angle_words(high)}.",
        f"Folded, the least is {angle_words(value)}.",
    )
    return Worked(steps, float(value))


# --- position and velocity --------------------------------------------------------------------------------------------


def along(z, axis: str):
    """The coordinate of a complex number."""
    if axis not in PART:
        raise LinkageError(f'axis is "x" or "y", not {axis!r}')
    return z.real if axis == "x" else z.imag


def other(axis: str) -> str:
    """The other axis."""
    return "y" if axis == "x" else "x"


def place(setting: Drawn, id: str = "point_at", *, point: str, axis: str = "x", marks: float = 3, title: str = "", ask: str = "",
          without: Sequence[str] = ()) -> Question:  # fmt: skip
    """A coordinate of a point at the student's input."""
    setting.linkage._know_points(point)
    size, _ = extent(setting.linkage), along(0j, axis)
    at = lambda g, values=None: along(setting.moved(g, values).point(point), axis)  # noqa: E731
    wrong = [
        Misconception("other-coordinate", lambda g: along(setting.moved(g).point(point), other(axis)),
                      f"This is its {other(axis)}. Its {axis} is asked for.", 1 / 3),
        Misconception("as-sketched", lambda g: along(setting.machine(g).points[point], axis) + 0 * here(g),
                      "This is where the point lies in the sketch. Move the input to your value first."),
    ]  # fmt: skip
    if setting.turning:
        wrong.append(Misconception("clockwise", lambda g: at(g, -here(g)),
                                   "The input was set off clockwise. Angles count anticlockwise from +x.", 1 / 3))  # fmt: skip
    return question(
        setting, id, wrong, without, title=title or f"Where is {point}?", marks=marks, concept="05-position",
        kind=Number("mm", calculated("mm", size=size)), answer=lambda g: at(g),
        ask=ask or f"Where is the point {point} at your input: what is its {axis} coordinate?",
        by_hand=lambda g: _place_by_hand(setting, g, point, axis),
        hint="Place the links chain by chain, from the input on; each time the sketch shows on which side the joint lies.",
        model=f'{id} = (lk.move(machine, {variable(setting)}.input).point("{point}").{PART[axis]}, "m")',
        puts=lambda value, at: {point: complex(*((value, at[point].imag) if axis == "x" else (at[point].real, value)))},
    )  # fmt: skip


PART = {"x": "real", "y": "imag"}


def extent(linkage) -> float:
    """The size of the sketch, metres."""
    spots = np.array(list(linkage.points.values()))
    return float(max(np.ptp(spots.real), np.ptp(spots.imag)))


def variable(setting: Drawn) -> str:
    """The name of the student's numbers in the notebook."""
    return setting.id.rpartition("-")[2]


def _place_by_hand(setting, g, point, axis):
    """Chain by chain: the places of the pins, found by solving the loop equations step by step."""
    linkage = one(setting, g)
    places = second_route.follow(linkage, float(here(g)))
    spot = lambda p: (lambda u, w: u * linkage.points[p] + w)(*places[linkage.carriers[p][0]])  # noqa: E731
    steps = [
        f"{c.kind.capitalize()} ({c.note}): " + ", ".join(f"{p} ({1000 * spot(p).real:.2f}, {1000 * spot(p).imag:.2f}) mm"
                                                      for p in c.pairs if p in linkage.points) + "."
        for c in breakdown(linkage)
    ]  # fmt: skip
    z = spot(point)
    return Worked((*steps, f"{point} lies at ({1000 * z.real:.2f}, {1000 * z.imag:.2f}) mm."), float(along(z, axis)))


def pace(setting: Drawn, g):
    """The speed of the input, rad/s or m/s."""
    return g.speed if setting.turning else g.way


def velocity(setting: Drawn, id: str = "point_speed", *, point: str, axis: str = "x", marks: float = 3, title: str = "",
             ask: str = "", without: Sequence[str] = ()) -> Question:  # fmt: skip
    """A component of a point's velocity at the student's input and speed."""
    at = lambda g, axis=axis: pace(setting, g) * along(setting.moved(g).velocity(point), axis)  # noqa: E731
    wrong = [
        Misconception("other-component", lambda g: at(g, other(axis)),
                      f"This is the component along {other(axis)}. The one along {axis} is asked for.", 1 / 3),
    ]  # fmt: skip
    if setting.turning:
        wrong += [
            Misconception("turns-for-radians", lambda g: at(g) * 30 / np.pi,
                          "Revolutions a minute were put in as radians a second: times 2π, over 60.", 1 / 3),
            Misconception("turns-a-second", lambda g: at(g) / (2 * np.pi),
                          "Turns a second were put in. A turn is 2π radians.", 1 / 3),
        ]  # fmt: skip
    else:
        wrong.append(Misconception("as-the-input", lambda g: pace(setting, g) + 0 * at(g),
                                   "This is the speed of the input. The point moves at another."))  # fmt: skip
    typical = float(np.median(_speeds(setting, point, axis)))
    rate = f"{variable(setting)}.{'speed' if setting.turning else 'way'}"
    return question(
        setting, id, wrong, without, title=title or f"How fast is {point}?", marks=marks, concept="08-velocity",
        kind=Number("m/s", calculated("m/s", size=typical)), answer=lambda g: at(g),
        ask=ask or f"What is the {axis} component of the velocity of {point} at your input and speed ({SIDE[axis]} is positive)?",
        by_hand=lambda g: _velocity_by_hand(setting, g, point, axis),
        hint="Go through the chains with the loop equations differentiated, or take the difference of two near positions.",
        model=f'motion = lk.move(machine, {variable(setting)}.input, speed={rate})\n'
        f'{id} = (motion.velocity("{point}").{PART[axis]}, "m/s")',
    )  # fmt: skip


def values_of(setting: Drawn, name: str) -> tuple[int, ...]:
    """The values of one of the setting's numbers; a sentence where it has none."""
    found = next((g.values for g in setting.givens if g.name == name), None)
    if found is None:
        raise LinkageError(f"this question needs {name}: give own.drawn the values that it may have")
    return found


def _speeds(setting, point, axis):
    """The sizes of the component over the range of the machine as drawn, at the middle speed that may be given."""
    from ...motion import move
    from ...reach import reach

    values = values_of(setting, "speed_rpm" if setting.turning else "way_mm")
    middle = values[len(values) // 2] * (np.pi / 30 if setting.turning else 1e-3)
    motion = move(setting.linkage, reach(setting.linkage).values(60), speed=middle)
    found = np.abs(along(motion.velocity(point), axis))
    return found[np.isfinite(found)]


def _velocity_by_hand(setting, g, point, axis):
    linkage, speed = one(setting, g), float(pace(setting, g))
    rate = second_route.coefficient(linkage, float(here(g)), point)
    unit = "radian" if setting.turning else "metre"
    steps = (
        f"The input moves at {speed:.4g} {unit}s a second.",
        f"From two near positions: for each {unit} of the input {point} moves by ({rate.real:.5g}, {rate.imag:.5g}) m.",
        f"Along {axis}: {along(rate, axis):.5g} × {speed:.4g} = {along(rate, axis) * speed:.4g} m/s.",
    )
    return Worked(steps, float(along(rate, axis) * speed))
