"""A second route to every position: the loop equations written here anew, solved step by step by scipy's general solver.

Nothing of the package is used but the description of the linkage (its sketch, links, slides and inputs).
"""

import numpy as np
from scipy.optimize import fsolve


def follow(linkage, values, *, drive=None, held=None, most=0.02):
    """The poses at each value of the driving input, followed from the sketch in small steps.

    Returns {link: (turn, shift)}, arrays over the values: the sketch point z of a link is at ``turn * z + shift``.
    """
    drive = drive or linkage.inputs[0].name
    here = {i.name: sketched(linkage, i) for i in linkage.inputs}
    pose = np.zeros(3 * (len(linkage.links) - 1))
    found = []
    for value in values:
        there = here | (held or {}) | {drive: value}
        steps = int(np.ceil(max(abs(there[k] - here[k]) for k in there) / most)) or 1
        for n in range(1, steps + 1):
            now = {k: here[k] + (there[k] - here[k]) * n / steps for k in there}
            pose = solved(linkage, pose, now)
        here = there
        found.append(pose)
    return unpacked(linkage, np.array(found).T)


def solved(linkage, pose, inputs):
    """The pose that closes every pair at the inputs, from one nearby: x, y and turn of each moving link."""
    size = max(abs(z) for z in linkage.points.values())
    # scipy takes its difference steps in proportion to the unknowns, so these are kept about one
    moved = lambda x: pose + (x - 1) * scale(linkage, size)  # noqa: E731
    gaps = lambda x: equations(linkage, unpacked(linkage, moved(x)), inputs) / size  # noqa: E731
    found = np.ones(len(pose))
    for _ in range(2):
        found = fsolve(gaps, found, xtol=1e-13, full_output=True)[0]
    assert np.abs(gaps(found)).max() < 1e-10, "the second route found no pose"
    return moved(found)


def scale(linkage, size):
    """Metres in sizes of the linkage, radians as they are."""
    return np.tile([size, size, 1.0], len(linkage.links) - 1)


def unpacked(linkage, pose):
    """Link to (turn, shift); the fixed link stays."""
    places = {linkage.fixed: (1 + 0j, 0j)}
    for n, link in enumerate(k for k in linkage.links if k != linkage.fixed):
        x, y, turn = pose[3 * n : 3 * n + 3]
        places[link] = np.exp(1j * turn), x + 1j * y
    return places


def equations(linkage, places, inputs):
    """How far each pair and each input is from where it should be: metres, angles times the size."""
    size, rows = max(abs(z) for z in linkage.points.values()), []
    for pair in linkage.pairs:
        (ua, wa), (ub, wb) = (places[k] for k in pair.links)
        if pair.kind == "turning":
            z = linkage.points[pair.at]
            gap = ua * z + wa - ub * z - wb
            rows += [gap.real, gap.imag]
        else:
            s = linkage.slide(pair.at)
            (ua, wa), (ub, wb) = places[s.on], places[s.block]
            rows.append(size * np.angle(ub / ua))
            rows.append((np.conj(ua * s.direction) * (ub * s.through + wb - ua * s.through - wa)).imag)
    return np.array(rows + [driven(linkage, i, places, inputs[i.name], size) for i in linkage.inputs])


def ends(linkage, i):
    """Reference and driven link: the fixed link is never the driven one."""
    return i.links[::-1] if i.links[1] == linkage.fixed else i.links


def first(linkage, link, slide):
    """The first point of a link, or where its slide runs through."""
    return linkage.points[linkage.links[link][0]] if linkage.links[link] else slide.through


def direction(linkage, link):
    """The direction of a link in the sketch: first point to second, else its slide."""
    carried = linkage.links[link]
    if len(carried) > 1:
        return np.angle(linkage.points[carried[1]] - linkage.points[carried[0]])
    by = [s.direction for s in linkage.slides if s.block == link] + [
        s.direction for s in linkage.slides if s.on == link
    ]
    return np.angle(by[0])


def sketched(linkage, i):
    """The value of an input in the sketch."""
    if i.kind == "angle":
        return direction(linkage, ends(linkage, i)[1])
    s = linkage.slide(i.at)
    return (np.conj(s.direction) * (first(linkage, s.block, s) - first(linkage, s.on, s))).real


def driven(linkage, i, places, value, size):
    if i.kind == "angle":
        (ua, _), (ub, _) = (places[k] for k in ends(linkage, i))
        return size * np.angle(ub / ua * np.exp(1j * (direction(linkage, ends(linkage, i)[1]) - value)))
    s = linkage.slide(i.at)
    (ua, wa), (ub, wb) = places[s.on], places[s.block]
    apart = ub * first(linkage, s.block, s) + wb - ua * first(linkage, s.on, s) - wa
    return (np.conj(ua * s.direction) * apart).real - value


def worst_gap(linkage, motion, places):
    """How far the points of a motion lie from those of the second route at most, in sizes of the linkage."""
    size, worst = max(abs(z) for z in linkage.points.values()), 0.0
    for link, carried in linkage.links.items():
        turn, shift = places[link]
        for z in [linkage.points[p] for p in carried] or [0j]:
            worst = max(worst, np.max(np.abs(motion.place(link, z) - turn * z - shift)) / size)
    return worst
