"""Taking a machine apart: the order in which its links can be placed, and the four-link chains this makes.

The fixed link and the inputs are known. Two further links that hang between known ones make one dyad, and with the
known links from which they hang a four-link chain; when it is solved its output is known, and may be the input of the
next. What hangs together in no such way is placed by Newton's method, on the same constraint equations.
Method: decomposition into Assur groups, as in texts on the theory of machines.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import combinations, product

import numpy as np

from .chains import Chain, chain_of
from .dyads import cross, dot
from .errors import LinkageError
from .linkage import known


@dataclass(frozen=True)
class Tie:
    """One pairing that is used to place a group: at the pin or slide `at`, between the links `a` and `b`."""

    at: str
    a: str
    b: str

    def turned(self):
        """The same pairing named from the other link."""
        return Tie(self.at, self.b, self.a)


@dataclass(frozen=True, eq=False)
class Group:
    """Links that are placed together: `kind` is "driven", a dyad's letters, "carried", "idle" or "newton".

    `bodies` are the sets of links that the inputs join rigidly; `ties` lead from known links through the group to
    known links; `side` is the root of the closed form that the sketch shows.
    """

    kind: str
    bodies: tuple
    ties: tuple = ()
    side: object = 1.0

    @property
    def links(self):
        """All links of the group."""
        return tuple(link for body in self.bodies for link in body)


def bodies(linkage) -> list:
    """The sets of links that are rigid while the inputs hold still, the fixed link's set first."""
    sets = {link: (link,) for link in (linkage.fixed, *linkage.moving)}
    for i in linkage.inputs:
        a, b = (sets[link] for link in i.links)
        if a == b:
            raise LinkageError(f"input {i.name} drives a freedom that another input drives already: leave one out")
        first, second = (a, b) if linkage.fixed in a or linkage.fixed not in b else (b, a)
        for link in (*first, *second):
            sets[link] = first + second
    return list(dict.fromkeys(sets.values()))


def groups(linkage) -> tuple:
    """The groups of a linkage in the order in which they are placed."""
    base, *rest = bodies(linkage)
    found, known = [Group("driven", (base,))], list(base)
    while rest:
        group = _next(linkage, known, rest)
        found.append(group)
        known += group.links
        rest = [body for body in rest if body not in group.bodies]
    return tuple(found)


def breakdown(linkage) -> list[Chain]:
    """The four-link chains of a machine, in the order in which they are solved.

    Returns
    -------
    list of Chain
        Each with `kind`, `fixed` (it may be moving), `input`, `coupler` and `output`. Two links that hang from links
        not paired with each other, a redundant or idle link, and links that only Newton's method can place
        are named as such in `kind`, with a sentence in `note`.

    Raises
    ------
    LinkageError
        If the inputs do not decide where every link goes.

    Examples
    --------
    >>> import linkkit as lk
    >>> [chain.kind for chain in breakdown(lk.machine("brine-lift"))]
    ['four-bar', 'slider-crank']
    """
    order, chains = [], []
    for group in linkage_groups(known(linkage)):
        if group.kind != "driven":
            chains.append(chain_of(linkage, group, order))
        order += group.links
    return chains


def linkage_groups(linkage) -> tuple:
    """The groups of a linkage, worked out once and kept with it."""
    if "_groups" not in linkage.__dict__:
        object.__setattr__(linkage, "_groups", groups(linkage))
    return linkage._groups


def resketched(linkage, found) -> tuple:
    """The groups of a linkage that differs in its sketch only from that for which they were found: the roots anew."""
    return tuple(_again(linkage, group) for group in found)


def _again(linkage, group):
    if len(group.bodies) != 2:  # only a dyad has a root
        return group
    side = _side(linkage, group.kind, group.ties)
    return group if side == group.side else replace(group, side=side)


def ties(linkage, body, others) -> list[Tie]:
    """The pairings of a body with other links: one for each pin or slide, with the link found first."""
    found = {}
    for other, link in product(others, body):
        for at in linkage.joined(other, link):
            found.setdefault(at, Tie(at, other, link))
    return list(found.values())


def _next(linkage, known, rest):
    for search in (_carried, _dyad, _larger, _idle):
        group = search(linkage, known, rest)
        if group:
            return group
    lost = ", ".join(link for body in rest for link in body)
    count = len(linkage.inputs)
    raise LinkageError(
        f"with {count} input{'s' * (count != 1)} nothing decides where {lost} should be: "
        "give another input, or another pair"
    )


def _carried(linkage, known, rest):
    for body in rest:
        outer = ties(linkage, body, known)
        if len(outer) > 1:
            return Group("carried", (body,), tuple(outer))
    return None


def _idle(linkage, known, rest):
    for body in rest:
        outer = ties(linkage, body, known)
        if outer and not ties(linkage, body, [k for other in rest if other != body for k in other]):
            return Group("idle", (body,), tuple(outer))
    return None


def _dyad(linkage, known, rest):
    best = None
    for one, two in combinations(rest, 2):
        for three in _routes(linkage, known, one, two):
            rank = _rank(linkage, three)
            if best is None or rank < best[0]:
                best = rank, one, two, three
    return _oriented(linkage, *best[1:]) if best else None


def _routes(linkage, known, one, two):
    """Every way known - one - two - known through three different pins or slides that are not all slides."""
    outer1 = _every_tie(linkage, one, known)
    outer2 = _every_tie(linkage, two, known)
    for first, inner, last in product(outer1, ties(linkage, two, one), outer2):
        three = (first, inner, last.turned())
        if len({t.at for t in three}) == 3 and any(t.at in linkage.points for t in three):
            yield three


def _every_tie(linkage, body, others):
    return [Tie(at, other, link) for other in others for link in body for at in linkage.joined(other, link)]


def _rank(linkage, three):
    """Best: hanging from two links that are paired with each other; next: from one link; last: from unpaired ones."""
    a, b = three[0].a, three[-1].b
    if a == b:
        return 1
    return 0 if linkage.joined(a, b) else 2


def _oriented(linkage, one, two, three):
    letters = "".join("R" if t.at in linkage.points else "P" for t in three)
    if letters in ("PRR", "PPR"):
        letters, one, two = letters[::-1], two, one
        three = tuple(t.turned() for t in reversed(three))
    return Group(letters, (one, two), three, _side(linkage, letters, three))


def _side(linkage, letters, three):
    """The root that the sketch shows; a sketch in a limit position shows none."""
    if letters in ("PRP", "RPP"):
        return 1.0
    area = _SIDES[letters](linkage, three)
    if np.ndim(area) == 0 and abs(area) < 1e-9:
        names = ", ".join(dict.fromkeys(t.at for t in three))
        raise LinkageError(
            f"the sketch stands in a limit position at {names}, so it does not show which circuit is meant: "
            "draw it with the input a little further on"
        )
    return np.sign(area) if np.ndim(area) else float(np.sign(area))


def _side_rrr(linkage, three):
    a, b, c = (linkage.points[t.at] for t in three)
    return cross(np.asarray(c - a), b - a) / (np.abs(c - a) * np.abs(b - a) + 1e-300)


def _side_rrp(linkage, three):
    a, b = (linkage.points[t.at] for t in three[:2])
    return dot(np.asarray(b - a), np.asarray(linkage.slide(three[2].at).direction)) / np.abs(b - a)


def _side_rpr(linkage, three):
    a, c = linkage.points[three[0].at], linkage.points[three[2].at]
    return dot(np.asarray(c - a), np.asarray(linkage.slide(three[1].at).direction)) / (np.abs(c - a) + 1e-300)


_SIDES = {"RRR": _side_rrr, "RRP": _side_rrp, "RPR": _side_rpr}


def _larger(linkage, known, rest):
    """The smallest set of three or more bodies that its pairs place completely."""
    for size in range(3, len(rest) + 1):
        for some in combinations(rest, size):
            inside = [link for body in some for link in body]
            if _freedom(linkage, known, inside, len(some)) == 0:
                return Group("newton", some)
    return None


def _freedom(linkage, known, inside, count):
    """Three freedoms a body less two for each pair, a pin through k bodies counting k - 1 pairs."""
    sets = {link: body for body in bodies(linkage) for link in body}
    pairs = sum(1 for s in linkage.slides if _spans(s.block, s.on, inside, known, sets))
    for carriers in linkage.carriers.values():
        here = {"known" if k in known else sets[k] for k in carriers if k in inside or k in known}
        pairs += max(0, len(here) - 1)
    return 3 * count - 2 * pairs


def _spans(a, b, inside, known, sets):
    return (a in inside or b in inside) and all(k in inside or k in known for k in (a, b)) and sets[a] != sets[b]
