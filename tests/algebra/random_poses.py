"""Many random linkages with an input each, away from their limit positions, as arrays."""

import numpy as np

POSES = 100_000


def random_four_bars(count, seed):
    """Four-bars of every Grashof class, and a crank angle each, a degree or more off the limits."""
    rng = np.random.default_rng(seed)
    lengths = rng.uniform(0.1, 1.0, size=(4, 3 * count))
    theta = rng.uniform(-np.pi, np.pi, size=3 * count)
    ground, crank, coupler, rocker = lengths
    diagonal = abs(ground - crank * np.exp(1j * theta))
    cosine = (coupler**2 + rocker**2 - diagonal**2) / (2 * coupler * rocker)
    keep = np.flatnonzero(abs(cosine) < np.cos(np.radians(1)))[:count]
    assert len(keep) == count
    return dict(zip(("ground", "crank", "coupler", "rocker"), lengths[:, keep], strict=True)), theta[keep]


def random_sliders(count, seed):
    """Offset slider-cranks, and a crank angle each, with the rod a degree or more off square to the slide."""
    rng = np.random.default_rng(seed)
    crank, rod, offset = rng.uniform([[0.1], [0.1], [-1]], [[1], [2], [1]], size=(3, 4 * count))
    theta = rng.uniform(-np.pi, np.pi, size=4 * count)
    sine = (offset - crank * np.sin(theta)) / rod
    keep = np.flatnonzero(abs(sine) < np.cos(np.radians(1)))[:count]
    assert len(keep) == count
    return {"crank": crank[keep], "rod": rod[keep], "offset": offset[keep]}, theta[keep]


def random_levers(count, seed):
    """Cranks with a block on an offset lever, and a crank angle each, a degree or more off the limit."""
    rng = np.random.default_rng(seed)
    ground, crank, offset = rng.uniform([[0.1], [0.1], [-1]], [[1], [1], [1]], size=(3, 4 * count))
    theta = rng.uniform(-np.pi, np.pi, size=4 * count)
    reach = abs(crank * np.exp(1j * theta) - ground)
    keep = np.flatnonzero((abs(offset) < np.cos(np.radians(1)) * reach) & (reach > 0.05))[:count]
    assert len(keep) == count
    return {"ground": ground[keep], "crank": crank[keep], "offset": offset[keep]}, theta[keep]


def family(builder, lengths, *more):
    """A family of linkages with a last axis of one for the cycle."""
    return builder(*(values[:, None] for values in lengths.values()), *more)
