"""Placing by Newton's method what has no closed form, with continuation from the sketch along the inputs."""

from __future__ import annotations

from types import SimpleNamespace

import numpy as np

from .breakdown import linkage_groups
from .constraint import blocks, matrix

CLOSED = 1e-14  # of the sketch's extent: where Newton's method stops
LEAP = 0.35  # radians: a larger turn in one step may have changed the circuit, so the step is halved
HALVINGS = 8


def place(places, group):
    """Place the links of a group at every position; nan from where it can no longer follow the sketch's circuit."""
    linkage = places.linkage
    values = dict(zip(places.inputs, np.broadcast_arrays(*places.inputs.values()), strict=True))
    shape = next(iter(values.values())).shape
    flat = {name: v.ravel() for name, v in values.items()}
    follow = _Follower(linkage, group, places)
    found = {
        k: (np.full(flat_size(flat), np.nan + 0j), np.full(flat_size(flat), np.nan + 0j)) for k in group.links
    }
    for path in _paths(linkage, flat):
        pose, here = follow.sketch(), follow.start
        for index in path:
            there = {name: v[index] for name, v in flat.items()}
            pose, here = follow.step(pose, here, there, HALVINGS), there
            if pose is None:
                break
            for link in group.links:
                found[link][0][index], found[link][1][index] = pose[link]
    for link, (w, u) in found.items():
        places.anchor[link] = (follow.mark[link], w.reshape(shape))
        places.u[link] = u.reshape(shape)


def flat_size(flat):
    """How many positions there are."""
    return len(next(iter(flat.values())))


def _paths(linkage, flat):
    """The positions in order of the input that varies, from the sketch's value upwards and downwards."""
    from .placing import sketched

    lead = max(flat, key=lambda name: np.ptp(flat[name]))
    start = sketched(linkage, next(i for i in linkage.inputs if i.name == lead))
    order = np.argsort(flat[lead], kind="stable")
    split = np.searchsorted(flat[lead][order], start)
    return order[split:], order[:split][::-1]


class _Follower:
    """Follows one group from pose to pose; a pose is, for each link, the place of its mark and its rotation."""

    def __init__(self, linkage, group, places):
        from .placing import sketched

        self.linkage, self.group = linkage, group
        self.number = linkage_groups(linkage).index(group)
        self.block = blocks(linkage)[[b.links for b in blocks(linkage)].index(group.links)]
        self.start = {i.name: float(sketched(linkage, i)) for i in linkage.inputs}
        self.mark = {k: self._mark(k) for k in group.links}
        self.extent = max(abs(a - b) for a in linkage.points.values() for b in linkage.points.values())
        self.known = type(places)

    def _mark(self, link):
        carried = self.linkage.links[link]
        return self.linkage.shape(link, carried[0]) if carried else self.linkage.slides[0].through

    def sketch(self):
        """The pose in which the group is sketched."""
        return {k: (self.mark[k], 1 + 0j) for k in self.group.links}

    def step(self, pose, here, there, halvings):
        """The pose at the inputs `there`, reached from that at `here`; None if the circuit ends on the way."""
        found = self._solve(pose, there)
        if found and all(abs(np.angle(found[k][1] / pose[k][1])) < LEAP for k in pose):
            return found
        if not halvings:
            return None
        between = {name: 0.5 * (here[name] + there[name]) for name in here}
        middle = self.step(pose, here, between, halvings - 1)
        return middle and self.step(middle, between, there, halvings - 1)

    def _solve(self, pose, inputs):
        known = self.known(self.linkage, inputs, upto=self.number)
        view = SimpleNamespace(
            linkage=self.linkage, inputs=inputs, u=dict(known.u), anchor=dict(known.anchor)
        )
        view.carry = lambda link, z: view.anchor[link][1] + view.u[link] * (z - view.anchor[link][0])
        for _ in range(25):
            for link, (w, u) in pose.items():
                view.anchor[link], view.u[link] = (self.mark[link], w), u
            off = np.array([x for eq in self.block.equations for x in eq.residual(view)], dtype=float)
            if np.abs(off).max() < CLOSED * max(self.extent, 1.0):
                return pose
            pose = self._improved(pose, off, matrix(view, self.block, ()))
            if pose is None:
                return None
        return pose if np.abs(off).max() < 1e-12 * self.extent else None

    def _improved(self, pose, off, jacobian):
        try:
            change = -np.linalg.solve(jacobian, off)
        except np.linalg.LinAlgError:
            return None
        if not np.isfinite(change).all() or np.abs(change).max() > 1e3 * max(self.extent, 1.0):
            return None
        moved = {}
        for n, (link, (w, u)) in enumerate(pose.items()):
            x, y, turn = change[3 * n : 3 * n + 3]
            moved[link] = (w + complex(x, y), u * np.exp(1j * turn))
        return moved
