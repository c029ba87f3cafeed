"""Tracing a circuit: following links without a closed form along one input, from the sketch to where it turns back.

The path is followed by its own length, not by the input, so that it runs smoothly up to a dead centre, where the input
turns back, and straight on over a change point. What is kept are nodes of the path with their directions.
Method: continuation by pseudo-arclength (H. B. Keller, in Applications of Bifurcation Theory, 1977).
"""

from __future__ import annotations

from types import SimpleNamespace

import numpy as np

from .breakdown import linkage_groups
from .change_points import places_of
from .constraint import blocks, matrix
from .errors import LinkageError
from .newton import corrected, mark, solved, start_of
from .placing import Places

LONGEST, SHORTEST, FIRST = 0.1, 1e-11, 0.02  # steps: the largest change of an angle, or of a place in extents
CHANGE = 1e-6  # two branches of the circuit that come nearer to each other than this meet in a change point
BEND = 0.97  # the cosine of the angle between two directions of the path that follow each other
MOST_TURNS = 4
CLOSED = 1e-13  # of the extent, or radians
TINY = 1e-6


class Equations:
    """The closure of one group of links as a function of their pose and of the inputs."""

    def __init__(self, linkage, group, placed):
        self.linkage, self.group, self.placed = linkage, group, placed
        self.block = next(b for b in blocks(linkage) if set(b.links) == set(group.links))
        self.links = self.block.links
        self.mark = {k: mark(linkage, k) for k in self.links}
        z = np.array(list(linkage.points.values()))
        self.extent = float(np.abs(z[:, None] - z).max())
        self.closed = CLOSED
        metres = [m for eq in self.block.equations for m in eq.in_metres]
        self.size = np.where(metres, self.extent, 1.0)

    def sketch(self):
        """The pose in which the group is sketched."""
        return np.array([x for k in self.links for x in (self.mark[k].real, self.mark[k].imag, 0.0)])

    def known(self, inputs):
        """The links placed before the group, at inputs of any shape."""
        with np.errstate(all="ignore"):
            return self.placed(inputs)

    def off(self, pose, known):
        """What is left of each equation, metres in extents: float array, positions + (equations,)."""
        view, shape = self._view(pose, known), np.shape(pose)[:-1]
        rows = [np.broadcast_to(x, shape) for eq in self.block.equations for x in eq.residual(view)]
        return np.stack(rows, axis=-1) / self.size

    def jacobian(self, pose, known):
        """The Jacobian of `off` with respect to the pose."""
        return matrix(self._view(pose, known), self.block, np.shape(pose)[:-1]) / self.size[:, None]

    def _view(self, pose, known):
        view = SimpleNamespace(linkage=self.linkage, inputs=known.inputs, u=dict(known.u), anchor=dict(known.anchor))
        for n, link in enumerate(self.links):
            x, y, turn = (pose[..., 3 * n + j] for j in range(3))
            view.anchor[link], view.u[link] = (self.mark[link], x + 1j * y), np.exp(1j * turn)
        view.carry = lambda link, z: view.anchor[link][1] + view.u[link] * (z - view.anchor[link][0])
        return view


class Path:
    """One way along a circuit from a pose: nodes with directions, up to a last value or to where the path turns back.

    A node is a vector: the pose (metres in extents, radians) and, last, the value that leads (in `unit`).
    """

    def __init__(self, equations, inputs, pose, value, sense, last, unit=1.0):
        self.equations, self.inputs, self.unit = equations, inputs, unit
        self.scale = np.append(np.where(np.arange(len(pose)) % 3 < 2, equations.extent, 1.0), unit)
        node = np.append(pose, value) / self.scale
        direction = self._first(node, sense)
        self.nodes, self.directions, self.lengths, self.turn = [node], [direction], [], self._turn_at(node)
        self.sense, self.last, self.ended = sense, last / unit, direction is None
        self._follow()

    @property
    def reached(self):
        """The last value of the leading input."""
        return self.nodes[-1][-1] * self.unit

    def _follow(self):
        step = FIRST
        while not self.ended and self.sense * (self.last - self.nodes[-1][-1]) > 0:
            step = step if self._go(step) else 0.25 * step
            step = min(2 * step, LONGEST)
            self.ended |= step < SHORTEST

    def _go(self, step):
        """Take a step, if the path does not bend too sharply there nor leap to another; stop where it turns back."""
        direction = self.directions[-1]
        length = step / np.abs(direction).max()
        node, ahead = self._corrected(length)
        if node is None or direction @ ahead < BEND:
            return False
        if self.sense * ahead[-1] < 0:
            length, node, ahead = self._turning(length)
            self.ended = True
        elif (turn := self._turn_at(node)) != self.turn:
            if step > CHANGE:
                return False
            self.turn = turn
        if node is not None:
            self.nodes.append(node)
            self.directions.append(ahead)
            self.lengths.append(length)
        return True

    def _turn_at(self, node):
        """The sign of the Jacobian's determinant: it changes where the path turns back, and at a change point."""
        rows = self._linear(node)[1][:, :-1]
        return np.linalg.slogdet(rows)[0] if np.isfinite(rows).all() else 0.0

    def _turning(self, far):
        """The length of the step to where the leading input turns back, by halving between its directions."""
        near, best = 0.0, (0.0, None, None)
        for _ in range(50):
            middle = 0.5 * (near + far)
            node, ahead = self._corrected(middle)
            if node is not None and self.sense * ahead[-1] >= 0:
                near, best = middle, (middle, node, ahead)
            else:
                far = middle
            if far - near < 1e-9 * far:
                break
        return best

    def _corrected(self, length):
        """The node so far along the last direction, by Newton's method across it, and the direction there."""
        along = self.directions[-1]
        start = node = self.nodes[-1] + length * along
        for _ in range(6):
            off, rows = self._linear(node)
            if not (np.isfinite(off).all() and np.isfinite(rows).all()):
                return None, None
            if np.abs(off).max() < CLOSED:
                return node, _unit(solved(np.vstack([rows, along]), np.append(np.zeros(len(off)), 1.0)))
            node = node - solved(np.vstack([rows, along]), np.append(off, along @ (node - start)))
        return None, None

    def _linear(self, node):
        """What is left of the equations at a node, and their Jacobian with respect to the node."""
        pose, value = node[:-1] * self.scale[:-1], node[-1]
        known = self.equations.known(self.inputs((value + TINY * np.array([0.0, 1.0, -1.0])) * self.unit))
        off = self.equations.off(np.broadcast_to(pose, (3, len(pose))), known)
        here = self.equations.known(self.inputs(np.array(value * self.unit)))
        rows = self.equations.jacobian(pose, here) * self.scale[:-1]
        return off[0], np.column_stack([rows, (off[1] - off[2]) / (2 * TINY)])

    def _first(self, node, sense):
        """The direction at the first node in which the leading input grows (or shrinks)."""
        _, rows = self._linear(node)
        if not np.isfinite(rows).all():
            return None
        direction = np.linalg.svd(rows)[2][-1]
        return _unit(direction * np.sign(direction[-1]) * sense) if abs(direction[-1]) > 1e-9 else None

    def guesses(self, values):
        """Poses close to the path at some values of the leading input: by cubics between its nodes (Hermite)."""
        nodes, at = np.array(self.nodes), self.sense * np.asarray(values) / self.unit
        if len(nodes) < 2:
            return np.broadcast_to(nodes[0][:-1] * self.scale[:-1], (len(at), nodes.shape[1] - 1))
        n = np.clip(np.searchsorted(self.sense * nodes[:, -1], at) - 1, 0, len(nodes) - 2)
        slope = np.array(self.directions)
        ends = nodes[n], nodes[n + 1], slope[n] * np.array(self.lengths)[n, None], None
        ends = (*ends[:3], slope[n + 1] * np.array(self.lengths)[n, None])
        low, high = np.zeros(len(at)), np.ones(len(at))
        for _ in range(40):
            middle = 0.5 * (low + high)
            before = self.sense * _cubic(middle, *(e[:, -1] for e in ends)) < at
            low, high = np.where(before, middle, low), np.where(before, high, middle)
        return _cubic(low[:, None], *(e[:, :-1] for e in ends)) * self.scale[:-1]


def _unit(vector):
    return vector / np.sqrt(vector @ vector)


def _cubic(t, start, end, off, on):
    """Hermite's cubic between two values with two slopes, at t from 0 to 1."""
    turned = 1 - t
    return turned * turned * ((1 + 2 * t) * start + t * off) + t * t * ((1 + 2 * turned) * end - turned * on)


def led(equations, pose, here, there):
    """The pose at the inputs `there`, led along the straight way from that at `here`; None if it is not reached."""
    if pose is None or not np.isfinite(pose).all() or here == there:
        return pose if pose is not None and np.isfinite(pose).all() else None
    along = lambda t: {k: v + np.asarray(t) * (there[k] - v) for k, v in here.items()}  # noqa: E731
    path = Path(equations, along, pose, 0.0, 1.0, 1.0)
    pose = corrected(equations, path.guesses([1.0]), along(np.ones(1)))[0]
    return pose if path.reached >= 1 and np.isfinite(pose).all() else None


def walked(linkage, group, inputs):
    """The poses at inputs that all vary (arrays of one axis), led from each position to the next."""
    number, here = linkage_groups(linkage).index(group), start_of(linkage)
    equations = Equations(linkage, group, lambda given: Places(linkage, given, upto=number))
    pose = corrected(equations, equations.sketch()[None], {k: np.array([v]) for k, v in here.items()})[0]
    found = []
    for values in zip(*inputs.values(), strict=True):
        there = here | dict(zip(inputs, map(float, values), strict=True))
        reached = led(equations, pose, here, there)
        found.append(np.full(len(equations.sketch()), np.nan) if reached is None else reached)
        pose, here = (pose, here) if reached is None else (reached, there)
    return np.array(found)


class Trace:
    """The circuit of one group along one input, both ways from the sketch, other inputs held."""

    def __init__(self, linkage, group, lead, held):
        self.number = linkage_groups(linkage).index(group)
        self.input = next(i for i in linkage.inputs if i.name == lead)
        self.start = start_of(linkage)[lead]
        inputs = lambda values: {lead: values} | held  # noqa: E731
        placed = lambda given: places_of(linkage, lead, given, self.number)  # noqa: E731
        self.equations, self.inputs = Equations(linkage, group, placed), inputs
        self.period, self.paths = None, ()
        pose = self._at_start(linkage, group, lead, held)
        if pose is not None:
            self._follow(pose)

    def _at_start(self, linkage, group, lead, held):
        """The pose at the sketched value of the leading input, the others brought to where they are held."""
        sketch = start_of(linkage)
        equations = Equations(linkage, group, lambda given: Places(linkage, given, upto=self.number))
        here = {k: np.array([v]) for k, v in sketch.items()}
        pose = corrected(equations, equations.sketch()[None], here)[0]
        return led(equations, pose, sketch, sketch | held)

    def _follow(self, pose):
        angle = self.input.kind == "angle"
        far, unit = (2 * np.pi, 1.0) if angle else (4 * self.equations.extent, self.equations.extent)

        def go(sense, far):
            return Path(self.equations, self.inputs, pose, self.start, sense, self.start + sense * far, unit)

        up = go(1.0, far)
        for turns in range(1, MOST_TURNS + 1 if angle else 1):
            up = up if turns == 1 else go(1.0, turns * far)
            if up.reached < self.start + turns * far:
                break
            if self._closes(up, pose, self.start + turns * far):
                self.period, self.paths = turns * far, (up,)
                return
        self.paths = (up, go(-1.0, far))
        if self.paths[1].directions[0] is None:
            raise LinkageError(
                f"the sketch stands in a limit position of {' and '.join(self.equations.links)}, so it does not show "
                "which circuit is meant: draw it with the input a little further on"
            )

    def _closes(self, path, pose, value):
        again = corrected(self.equations, path.guesses([value]), self.inputs(np.array([value])))[0]
        off = np.abs(np.exp(1j * again[2::3]) - np.exp(1j * pose[2::3])).max()
        return off < TINY and np.abs(again - pose).reshape(-1, 3)[:, :2].max() < TINY * self.equations.extent

    def poses(self, values):
        """The poses at some values of the leading input; nan where the circuit does not reach."""
        found = np.full((len(values), 3 * len(self.equations.links)), np.nan)
        if not self.paths:
            return found
        named = self._named(np.asarray(values, dtype=float))
        for path in self.paths:
            low, high = sorted((self.start, path.reached))
            here = (named >= low) & (named <= high)
            if here.any():
                found[here] = corrected(self.equations, path.guesses(named[here]), self.inputs(named[here]))
        return found

    def _named(self, values):
        """The values named as the trace names them: angles by whole turns into what it reaches."""
        if self.period:
            return self.start + (values - self.start) % self.period
        if self.input.kind != "angle":
            return values
        low, high = sorted(path.reached for path in self.paths)
        up, down = (
            2 * np.pi * x for x in (np.ceil((low - values) / (2 * np.pi)), np.floor((high - values) / (2 * np.pi)))
        )
        turned = values + np.where(values < low, up, np.where(values > high, down, 0.0))
        return np.where((turned >= low) & (turned <= high), turned, values)
