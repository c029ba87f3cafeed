"""The names of four-link chains, as the trade gives them by the order of their turning and sliding pairs."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Chain:
    """One step of a breakdown.

    `kind` is the trade's name of the four-link chain; `fixed` the link that it is seen from (which may be moving),
    `input` and `output` the links paired with that one, `coupler` the link between those two. `pairs` gives the pins
    and slides round the chain: fixed to input, input to coupler, coupler to output, output to fixed. A link that a kind
    does not have is None; `links` lists what the step places.
    """

    kind: str
    fixed: str | None
    input: str | None
    coupler: str | None
    output: str | None
    links: tuple = ()
    pairs: tuple = ()
    moving: bool = False
    note: str = ""


FOUR_LINK = {0: "four-bar", 1: "slider-crank", 2: "double slider"}


def chain_of(linkage, group, order) -> Chain:
    """The chain that a placed group makes with the links known before it (`order`, the fixed link first)."""
    if group.kind in ("carried", "idle", "newton"):
        return _other(linkage, group)
    first, inner, last = group.ties
    if first.a == last.b:
        return _within(linkage, group)
    if not linkage.joined(first.a, last.b):
        return _unpaired(linkage, group, order)
    if order.index(first.a) < order.index(last.b):
        first, inner, last = last.turned(), inner.turned(), first.turned()
    fixed, given, coupler, output = last.b, first.a, first.b, last.a
    closing = linkage.joined(fixed, given)[0]
    ends = (closing, first.at, inner.at, last.at)
    kind = _kind(linkage, ends)
    note = f"{given} moves {output} through {coupler}, seen from {fixed}" + (
        "" if fixed == linkage.fixed else ", which moves itself"
    )
    return Chain(kind, fixed, given, coupler, output, group.links, ends, fixed != linkage.fixed, note)


def _kind(linkage, ends):
    """Ends in loop order: fixed-input, input-coupler, coupler-output, output-fixed."""
    sliding = [at not in linkage.points for at in ends]
    count = sum(sliding)
    if count == 1 and (sliding[1] or sliding[2]):
        return "inverted slider-crank"
    if count == 2 and sliding[0] == sliding[2]:
        return "crossed slider"
    return FOUR_LINK.get(count, "triple slider")


def _within(linkage, group):
    """Both ends on one known link: a chain that is driven along or about a pair inside it."""
    first, inner, last = group.ties
    drive = next((i for i in linkage.inputs if set(i.links) <= set(group.links)), None)
    if drive is None:
        note = f"{' and '.join(group.links)} stand rigidly on {first.a}"
        return Chain("rigid triangle", first.a, None, None, None, group.links, note=note)
    body = next(b for b in group.bodies if set(drive.links) <= set(b))
    output = next(k for k in group.links if k not in body) if len(group.links) > len(body) else group.links[-1]
    near = [k for k in drive.links if linkage.joined(k, output)]
    coupler = near[0] if near else drive.links[1]
    given = next(k for k in drive.links if k != coupler)
    ends = (first.at, drive.at, inner.at, last.at)
    kind = {0: "four-bar", 1: "inverted slider-crank"}.get(
        sum(at not in linkage.points for at in ends), "double slider"
    )
    note = f"{drive.at} between {given} and {coupler} is driven and moves {output}, seen from {first.a}"
    return Chain(kind, first.a, given, coupler, output, group.links, ends, first.a != linkage.fixed, note)


def _unpaired(linkage, group, order):
    first, inner, last = group.ties
    if order.index(first.a) < order.index(last.b):
        first, inner, last = last.turned(), inner.turned(), first.turned()
    note = f"{first.b} and {last.a} hang from {first.a} and {last.b}, which are not paired with each other"
    return Chain("two links between unpaired links", last.b, first.a, first.b, last.a, group.links,
                 (first.at, inner.at, last.at), last.b != linkage.fixed, note)  # fmt: skip


def _other(linkage, group):
    links = " and ".join(group.links)
    if group.kind == "carried":
        held = " and ".join(t.at for t in group.ties)
        return Chain(
            "redundant link",
            None,
            None,
            None,
            None,
            group.links,
            note=f"{links} is held at {held} between links already placed: it adds no freedom and takes none away",
        )
    if group.kind == "idle":
        return Chain(
            "idle link",
            None,
            None,
            None,
            None,
            group.links,
            note=f"{links} can move by itself without moving any other link; it is drawn as carried along",
        )
    return Chain(
        "no four-link chain",
        None,
        None,
        None,
        None,
        group.links,
        note=f"{links} close only all together; they are placed by Newton's method",
    )
