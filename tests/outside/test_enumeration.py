"""Number synthesis: how many one-freedom pin-jointed chains there are, and what each must count.

E. R. Tuttle, Generation of planar kinematic chains, Mechanism and Machine Theory 31 (1996) 729-748: 2 chains of six
links and 16 of eight (counts from memory; enumerated here anew). Joints (3 n - 4) / 2: any text on number synthesis.
"""

import numpy as np
import pytest
from enumeration import chains

import linkkit as lk

COUNTS = {6: 2, 8: 16}
JOINTS = {6: 7, 8: 10}


def drawn_anyhow(joints, seed=7):
    """A chain as a linkage with its joints anywhere; the first link is fixed."""
    rng = np.random.default_rng(seed)
    names = [f"link {n}" for n in range(1 + max(max(joint) for joint in joints))]
    points = {f"P{n}": complex(*rng.uniform(-1, 1, 2)) for n in range(len(joints))}
    links = {name: tuple(f"P{i}" for i, joint in enumerate(joints) if n in joint) for n, name in enumerate(names)}
    return lk.Linkage(points, links, names[0])


@pytest.mark.parametrize("links", COUNTS)
def test_every_chain_has_one_freedom_by_count_and_by_rank(links):
    """In a random position no part is special, so the count is the true freedom."""
    found = chains(links)
    assert len(found) == COUNTS[links]
    for joints in found:
        linkage = drawn_anyhow(joints)
        assert len(linkage.pairs) == JOINTS[links] == (3 * links - 4) // 2
        assert lk.mobility(linkage) == 1
        assert lk.freedom(linkage).true == 1


def test_a_rigid_part_is_seen():
    """Three links in a triangle hinged to a loop: the count is still one, but the chain is none of the published."""
    triangle = [(0, 1), (1, 2), (0, 2)]
    loop = [(0, 3), (3, 4), (4, 5), (2, 5)]
    joints = triangle + loop
    assert lk.mobility(drawn_anyhow(joints)) == 1
    assert all(sorted(map(sorted, chain)) != sorted(map(sorted, joints)) for chain in chains(6))
