"""All one-freedom chains of turning pairs with no rigid part, by the number of links; a route of the tests' own.

Binary links are taken out of a chain first: what is left are its links of three and more pairs, joined by strings of
binary links. Every way to join them and to share the binary links among the strings is tried; a chain is known again by
the strings between each two of those links, whatever the order in which these are named.
"""

from collections import Counter
from itertools import chain, combinations, combinations_with_replacement, pairwise, permutations, product


def chains(links):
    """Each chain as a list of joints, pairs of link numbers from 0; no two alike."""
    found = {}
    for degrees in _degree_sequences(links):
        for strings in _string_chains(degrees, links - len(degrees)):
            joints = _joints(len(degrees), strings)
            if not _has_rigid_part(links, joints):
                found.setdefault(_signature(degrees, strings), joints)
    return list(found.values())


def _degree_sequences(links):
    """Numbers of pairs of the links that have three or more: joints (3 n - 4) / 2 are half the sum of all."""
    total = 3 * links - 4
    for many in range(2, links):
        for degrees in combinations_with_replacement(range(3, links), many):
            if sum(degrees) + 2 * (links - many) == total:
                yield degrees


def _string_chains(degrees, binaries):
    """Multisets of strings: (link, link, number of binary links on the way) with the wanted degrees."""
    for ends in _joinings(degrees):
        for shares in _shares(binaries, len(ends)):
            strings = tuple(sorted((*pair, share) for pair, share in zip(ends, shares, strict=True)))
            direct = Counter(string for string in strings if string[2] == 0)
            if max(direct.values(), default=0) < 2 and all(a != b for a, b, _ in strings):
                yield strings


def _joinings(degrees):
    """Multisets of link pairs in which every link takes part as often as its degree; no link joined to itself.

    A string that comes back to its own link would close a loop that moves by itself, leaving the rest rigid.
    """
    pairs = list(combinations(range(len(degrees)), 2))

    def extend(left, start, chosen):
        if not any(left):
            yield tuple(chosen)
        for n in range(start, len(pairs)):
            a, b = pairs[n]
            if left[a] and left[b]:
                fewer = [x - (k in pairs[n]) for k, x in enumerate(left)]
                yield from extend(fewer, n, [*chosen, pairs[n]])

    yield from extend(list(degrees), 0, [])


def _shares(total, parts):
    """All ways to share a number among so many strings."""
    if parts == 1:
        yield (total,)
        return
    for first in range(total + 1):
        for rest in _shares(total - first, parts - 1):
            yield (first, *rest)


def _joints(many, strings):
    joints, next_link = [], many
    for a, b, between in strings:
        stops = [a, *range(next_link, next_link + between), b]
        next_link += between
        joints += pairwise(stops)
    return joints


def _has_rigid_part(links, joints):
    """Whether some of the links, with the joints among them, have no freedom left."""
    masks = [(1 << a) | (1 << b) for a, b in joints]
    for mask in range(1, (1 << links) - 1):
        some = mask.bit_count()
        if some > 2 and 3 * (some - 1) - 2 * sum(mask & m == m for m in masks) < 1:
            return True
    return False


def _signature(degrees, strings):
    """The least list of strings over all ways to number the links of equal degree."""
    groups = {}
    for n, degree in enumerate(degrees):
        groups.setdefault(degree, []).append(n)
    numbers = list(chain(*groups.values()))
    names = (dict(zip(numbers, chain(*order), strict=True)) for order in _orders(groups))
    return degrees, min(tuple(sorted((*sorted((name[a], name[b])), n) for a, b, n in strings)) for name in names)


def _orders(groups):
    return product(*(permutations(members) for members in groups.values()))
