"""Inertia: the force and moment on each link for unit accelerations of the inputs and unit products of speeds."""

from __future__ import annotations

import numpy as np

from .reactions import Wrenches


def unit_wrenches(rates, masses, terms):
    """The inertia wrenches of the numbered terms, along a first axis.

    Terms count first the accelerations of the inputs, then the pairs of inputs' speeds in the order of ``rates.pairs``.
    """
    made, places = Wrenches(rates.places), rates.places
    heavy = {link: m for link, m in masses.items() if link != rates.linkage.fixed}
    for link, mass in heavy.items():
        n = rates.linkage.moving.index(link)
        v, w = (np.stack([_coefficient(rates, part, t, n) for t in terms]) for part in "vw")
        r = places.u[link] * (mass.centre(rates.linkage, link) - places.anchor[link][0])
        a = v + 1j * w * r
        for k, term in enumerate(terms):
            if term >= len(rates.names):
                one, two = rates.pairs[term - len(rates.names)]
                a[k] -= rates.first.w[one, n] * rates.first.w[two, n] * r
        force = -mass.mass * a
        made.add(link, force.real, force.imag, (np.conj(r) * force).imag - mass.inertia * w)
    return made


def _coefficient(rates, part, term, n):
    """One coefficient of link number n: `part` "v" or "w", of first or second order as the term is."""
    order, number = (rates.first, term) if term < len(rates.names) else (rates.second, term - len(rates.names))
    return getattr(order, part)[number, n]


def reduced(rates, masses, drive):
    """The reduced inertia of a linkage at its input `drive`, and half its derivative with respect to that input.

    Kinetic energy is half the reduced inertia times the square of the input's speed: kg m2, or kg for a distance.
    """
    k = rates.names.index(drive)
    terms = (rates.first, k), (rates.second, rates.pairs.index((k, k)))
    inertia = half_slope = 0.0
    for link, mass in masses.items():
        if link == rates.linkage.fixed:
            continue
        n = rates.linkage.moving.index(link)
        (v1, w1), (v2, w2) = ((c.v[term, n], c.w[term, n]) for c, term in terms)
        r = rates.places.u[link] * (mass.centre(rates.linkage, link) - rates.places.anchor[link][0])
        one, two = v1 + 1j * w1 * r, v2 + (1j * w2 - w1 * w1) * r
        inertia = inertia + mass.mass * (one.real**2 + one.imag**2) + mass.inertia * w1 * w1
        half_slope = half_slope + mass.mass * (np.conj(one) * two).real + mass.inertia * w1 * w2
    return inertia, half_slope
