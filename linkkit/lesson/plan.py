"""What to teach and to ask on a machine: which point to follow, which numbers to vary, which questions fit it."""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace
from itertools import product

import numpy as np

from ..breakdown import breakdown
from ..coursework import own
from ..coursework.answers import Number
from ..coursework.givens import Givens, IllPosedError, candidates
from ..coursework.own.asked import along, other
from ..coursework.own.drawing import SQUARE, Drawn, goes_round
from ..coursework.own.lines import on_a_slide
from ..coursework.question import Assignment, Question
from ..errors import LinkageError
from ..facts import Facts, facts, grashof
from ..linkage import Linkage
from ..motion import move
from ..reach import reach

LEAST = (SQUARE, 20, 12)  # degrees that every chain transmits at: the first of them that the machine can do
TRIED = 160  # candidates on which numbers and wrong answers are tried
FAIR, APART = 0.04, 0.3  # the least share of candidates that are fair; that keep a wrong answer apart
ROOM = 8  # steps, and more, that the nearest pin must be away from one that is moved
CHECKED = 3  # candidates for which a question's worked solution is compared with its answer
IDS = 40  # invented ids that must all get fair numbers


class LessonError(LinkageError):
    """No lesson can be made of this machine; the message says why and what would help."""


@dataclass(frozen=True)
class Asked:
    """One question of the plan: the function that makes it, and what it is told."""

    make: str
    options: dict
    without: tuple[str, ...] = ()

    def question(self, setting: Drawn) -> Question:
        """The question itself."""
        return getattr(own, self.make)(setting, without=self.without, **self.options)

    def code(self) -> str:
        """As it stands in the lecturer's file."""
        told = [
            f"{k}={_quoted(v)}" for k, v in (self.options | ({"without": self.without} if self.without else {})).items()
        ]
        return f"own.{self.make}({', '.join(['MINE', *told])})"


def _quoted(value) -> str:
    if isinstance(value, tuple):
        return repr(value).replace("'", '"')
    return f'"{value}"' if isinstance(value, str) else repr(value)


@dataclass(frozen=True)
class Plan:
    """A machine and what is to be done with it.

    `mark` is a (link, name, along) where a point had to be put on the output; `numbers` are the options of `own.drawn`.
    """

    slug: str
    linkage: Linkage
    known: Facts
    point: str
    axis: str
    mark: tuple | None
    numbers: dict
    asked: tuple[Asked, ...] = field(default=())

    @property
    def turning(self) -> bool:
        """Is the input an angle?"""
        return self.linkage.inputs[0].kind == "angle"

    def setting(self, **more) -> Drawn:
        """The setting with these numbers."""
        return own.drawn(self.linkage, id=f"{self.slug}-mine", **self.numbers, **more)

    def assignment(self) -> Assignment:
        """The assignment that the file will hold, to try it."""
        setting = self.setting()
        return Assignment(self.slug, "", "", (setting,), tuple(a.question(setting) for a in self.asked))


def slug_of(name: str) -> str:
    """A name for files: small letters, digits and dashes.

    Examples
    --------
    >>> slug_of("My Sluice_2.toml")
    'my-sluice-2'
    """
    made = re.sub(r"[^a-z0-9]+", "-", name.removesuffix(".toml").lower()).strip("-")
    if not made:
        raise LessonError(f"{name!r} has no letter or digit to name files by: rename the file, as in sluice.toml")
    return made


def plan(linkage: Linkage, slug: str) -> Plan:
    """The plan for a machine.

    Raises
    ------
    LessonError
        If the machine doesn't move, or no fair numbers were found for it.
    """
    if len(linkage.links) > 14:
        raise LessonError(f"{slug} has {len(linkage.links)} links; a lesson is made for 14 at most")
    odd = next((n for n in (*linkage.links, *linkage.points) if set(n) & set("\"'\\\n{}")), None)
    if odd:
        raise LessonError(
            f"the name {odd!r} cannot stand in a notebook's code: leave quotes, backslashes and braces out of names"
        )
    known = facts(linkage)
    linkage, mark = _with_mark(linkage, known.output)
    point, axis = _followed(linkage, known.output)
    made = Plan(slug, linkage, known, point, axis, mark, {})
    made = _with_numbers(made)
    made = replace(made, asked=_questions(made))
    _try(made)
    return made


def nice(size: float) -> int:
    """The nearest of 1, 2, 5, 10, 20, 50, ... from below; never less than 1.

    Examples
    --------
    >>> nice(37.0), nice(0.4)
    (20, 1)
    """
    power = 10 ** int(np.floor(np.log10(max(size, 1.0))))
    return int(power * max(k for k in (1, 2, 5) if k * power <= max(size, 1.0)))


# --- the point that is followed ---------------------------------------------------------------------------------------


def _with_mark(linkage, output):
    """A point painted on an output that has none that moves."""
    if any(p not in linkage.links[linkage.fixed] for p in linkage.links[output]):
        return linkage, None
    name = next(n for n in (*"MTUVW", "mark") if n not in linkage.points)
    spots = np.array(list(linkage.points.values()))
    along_it = nice(250 * np.ptp([*spots.real, *spots.imag])) / 1000
    return linkage.with_point(output, name, along_it), (output, name, along_it)


def _followed(linkage, output):
    """The point of the output that goes farthest, and the axis along which it does."""
    motion = move(linkage, reach(linkage).values(72))
    moving = [p for p in linkage.links[output] if p not in linkage.links[linkage.fixed]]
    far = {
        (p, axis): np.nanmax(z) - np.nanmin(z) for p in moving for axis in "xy" for z in [along(motion.point(p), axis)]
    }
    point, axis = max(far, key=far.get)
    if far[point, axis] < 1e-6:
        raise LessonError(f"the output {output} does not move, so there is nothing to predict: name another output")
    return point, axis


# --- the numbers ------------------------------------------------------------------------------------------------------


def _with_numbers(made: Plan) -> Plan:
    """Points to vary as long as enough candidates are fair; input, speed and load."""
    # what is placed by Newton's method is moved one linkage at a time: then only input, speed and load differ
    ways = _varied(made.linkage, made.point) if all(c.fixed for c in breakdown(made.linkage)) else []
    tries = product(LEAST, range(len(ways), -1, -1), (True, False))
    for least, count, throughout in tries:
        numbers = {"points": dict(ways[:count]), "throughout": throughout, "least_deg": least}
        tried = replace(made, numbers=_input_values(made) | numbers)
        if _share(tried.setting()) >= FAIR:
            return tried
    worst = np.degrees(made.known.transmission_angle)
    raise LessonError(
        f"{made.slug} hardly ever transmits at {LEAST[-1]} degrees or more (its chains have {worst[0]:.0f} to {worst[1]:.0f} degrees), "
        "so no student could get a fair position: choose other lengths, or another input"
    )


def _varied(linkage, followed: str) -> list[tuple]:
    """Up to two points and the values of their coordinates (mm): pins of moving links first, the driven one's before all.

    Only such as change where the followed point goes: else the answers would be the same for everybody.
    """
    kept = _special(linkage)
    pins = [p for p, on in linkage.carriers.items() if len(on) > 1 and p not in kept and not on_a_slide(linkage, p)]
    pins.sort(key=lambda p: linkage.fixed in linkage.carriers[p])
    found = []
    for p in pins:
        near = min(linkage.length(p, q) for k in linkage.carriers[p] for q in linkage.links[k] if q != p)
        step = nice(45 * near)
        if 1000 * near > ROOM * step and _matters(linkage, p, step / 1000, followed):
            z = 1000 * linkage.points[p]
            found.append((p, tuple(_around(c, step) for c in (z.real, z.imag))))
    return found[:2]


def _matters(linkage, p: str, step: float, followed: str) -> bool:
    """Does the followed point go elsewhere if the sketch has this one a step aside?"""
    inputs = reach(linkage).values(8)[1:-1]
    aside = replace(linkage, points=linkage.points | {p: linkage.points[p] + step * (1 + 1j)}, masses={})
    off = np.abs(move(aside, inputs).point(followed) - move(linkage, inputs).point(followed))
    return not np.nanmax(off, initial=0.0) < 1e-3 * step


def _special(linkage) -> set[str]:
    """The pins of four-bars with links of equal length (a parallelogram, a kite): moved one by one they would be so no more."""
    bars = [c.pairs for c in breakdown(linkage) if c.kind == "four-bar" and set(c.pairs) <= set(linkage.points)]
    sides = lambda o, a, b, q: [linkage.length(*ends) for ends in ((o, q), (o, a), (a, b), (b, q))]  # noqa: E731
    return {p for pins in bars if grashof(*sides(*pins))[0] == "change point" for p in pins}


def _around(middle: float, step: int) -> range:
    middle = round(middle)
    return range(middle - 2 * step, middle + 2 * step + 1, step)


def _input_values(made: Plan) -> dict:
    """Where the input may stand, how fast it may go, and the loads."""
    whole = reach(made.linkage)
    loads = {"load_newton": range(200, 1050, 50)}
    if made.turning:
        if whole.round:
            values = [a for a in range(20, 345, 5) if a % 90]
        else:
            low, high = np.degrees(whole.here)
            values = _between(low, high, min(5, nice((high - low) / 12)))
        return {"input_deg": values, "speed_rpm": range(30, 125, 5)} | loads
    low, high = 1000 * np.array(whole.here)
    step = nice((high - low) / 20)
    return {"input_mm": _between(low, high, step), "way_mm": range(step, 8 * step, step)} | loads


def _between(low, high, step) -> list[int]:
    """Whole steps inside a range, a tenth of it away from both ends."""
    margin = (high - low) / 10
    first = int(np.ceil((low + margin) / step)) * step
    values = list(range(first, int(np.floor(high - margin)) + 1, step))
    if len(values) < 4:
        raise LessonError(
            f"the input goes only from {low:.1f} to {high:.1f}: too little to give every student a value of their own"
        )
    return values


def trial(setting: Drawn) -> Givens:
    """Candidates as ids would have them."""
    return Givens(candidates(setting, f"trial of {setting.id}", 0, TRIED), setting.givens)


def _share(setting: Drawn) -> float:
    with np.errstate(all="ignore"):
        return float(np.mean(setting.fits(trial(setting))))


# --- the questions ----------------------------------------------------------------------------------------------------


def _questions(made: Plan) -> tuple[Asked, ...]:
    """Every question that fits the machine, each with the wrong answers that stand apart on it."""
    setting, there = made.setting(), {"point": made.point, "axis": made.axis}
    wanted = [Asked("first_class", {}), Asked("four_link_chains", {}), Asked("travel", {})]
    if made.turning and goes_round(setting):
        wanted.append(Asked("least_transmission", {}))
    wanted += [Asked("place", there), Asked("velocity", there), Asked("holding", there)]
    fair = trial(setting)
    fair = fair.at(setting.fits(fair))
    return tuple(found for one in wanted if (found := _fitting(one, setting, fair)))


def _fitting(one: Asked, setting: Drawn, fair: Givens) -> Asked | None:
    """The question without the wrong answers that are mostly right here; None where it can't be asked."""
    try:
        question = one.question(setting)
    except LinkageError:
        return None
    if not _agree(question, fair):
        return None
    right = question.right(fair)
    wrong = {known.code: question.wrong(known, fair) for known in question.misconceptions}
    share = {code: 0.0 if _nought(question, w) else np.mean(question.kind.apart(right, w)) for code, w in wrong.items()}
    kept = sorted((code for code in share if share[code] >= APART), key=share.get, reverse=True)
    while kept:
        found = replace(one, without=tuple(code for code in share if code not in kept))
        if np.mean(found.question(setting).apart(fair)) >= APART / 2:
            return found
        kept.pop()
    return None


def _nought(question: Question, wrong) -> bool:
    """Is a wrong answer always 0, as the height of a point that moves level? To write 0 is no understanding."""
    return isinstance(question.kind, Number) and bool(np.all(np.abs(wrong) < 1e-12))


def _agree(question: Question, fair: Givens) -> bool:
    """Do the answer and the worked solution, which goes another way, come to the same for some candidates?"""
    many = min(CHECKED, len(next(iter(fair.values.values()))))
    some = [g for g in map(fair.at, range(many)) if question.right(g) != ""]
    return all(question.kind.same(question.by_hand(g).value, question.right(g)) for g in some)


def _try(made: Plan) -> None:
    """Every one of some invented ids must get fair numbers."""
    if not made.asked:
        raise LessonError(f"{made.slug}: none of the questions fits this machine")
    try:
        made.assignment().givens(f"{made.slug}-mine", [f"invented {n}" for n in range(IDS)])
    except IllPosedError as error:
        raise LessonError(f"{made.slug}: {error}") from None


def chain_kinds(linkage) -> list[str]:
    """The kinds of the machine's chains, in order."""
    return [c.kind for c in breakdown(linkage)]


__all__ = ["LessonError", "Plan", "chain_kinds", "nice", "other", "plan", "slug_of"]
