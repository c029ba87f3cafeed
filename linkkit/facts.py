"""The facts one would check about a linkage: its class, limits, swing, stroke, time ratio, transmission angle."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from .breakdown import breakdown, linkage_groups
from .errors import LinkageError
from .linkage import is_family
from .motion import move
from .quantity import positive
from .reach import reach
from .transmission import extremes

EQUAL = 1e-10  # lengths that differ by less, relative to their sum, count as equal
STILL = 1e-13  # of the greatest coefficient: less than this is standing still
TURNS = 1e-7  # radians: a link that turns less slides; at a dead centre rounding makes 1e-8
GRID = 720
REMEMBERED = 8  # linkages whose facts are kept, for whoever asks for one fact after the other
_remembered: list[tuple] = []


@dataclass(frozen=True)
class Facts:
    """What is true of a linkage over the range of its input.

    Attributes
    ----------
    output : str
        The link whose motion is described.
    grashof_class : str or None
        For a four-bar: "crank-rocker", "rocker-crank", "double-crank", "double-rocker", "triple-rocker", or
        "change point"; None for other linkages.
    change_point_case : str or None
        At a change point: "parallelogram", "kite", or the class by the shortest link.
    limits : float array
        Values of the input at which the output stops and turns back (radians or metres).
    limit_outputs : float array
        The output's angle (radians) or displacement (metres) there.
    ranges : list of (float, float)
        The ranges of the input in which the linkage assembles; empty if it does so all the way round. Where there
        are several, the other facts hold for the one in which the linkage is sketched, on the branch sketched.
    dead_centres : float array
        The ends of that range, where the linkage itself stops the input: the coupler and the output are in line.
    swing : float or None
        The range of the output's angle, radians; one turn if it goes round, 0 if it moves without turning. None for
        a slider, which cannot turn.
    stroke : float or None
        The range of the output's displacement, metres, if it does not turn: along its slide, or on a curve in the
        direction in which it goes farthest. None if it turns.
    time_ratio : float or None
        The longer input turn between the extremes of the output over the shorter one; at least 1.
    transmission_angle : (float, float)
        The least and the greatest angle, radians, over all chains; 90 degrees is best.
    change_points : float array
        Values of the input at which the motion could go on in more than one way.
    """

    output: str
    grashof_class: str | None
    change_point_case: str | None
    limits: np.ndarray
    limit_outputs: np.ndarray
    ranges: list
    dead_centres: np.ndarray
    swing: float | None
    stroke: float | None
    time_ratio: float | None
    transmission_angle: tuple
    change_points: np.ndarray


def facts(linkage, *, held=None, drive=None) -> Facts:
    """Class, limit positions, dead centres, swing, stroke, time ratio and transmission angle of a linkage.

    For any linkage that `move` can move; other inputs are held as for `move`.

    Raises
    ------
    LinkageError
        For a family, a linkage without input, or one that does not assemble at any value of its input.

    Examples
    --------
    >>> import linkkit as lk
    >>> facts(lk.four_bar(0.4, 0.1, 0.35, 0.25)).grashof_class
    'crank-rocker'
    """
    if is_family(linkage):
        raise LinkageError("facts are found for one linkage at a time, not for a family")
    if held or drive or linkage.shapes:
        return _found(linkage, held, drive)
    kept = next((known for asked, known in _remembered if _alike(asked, linkage)), None)
    if kept is None:
        kept = _found(linkage, None, None)
        _remembered.insert(0, (linkage, kept))
        del _remembered[REMEMBERED:]
    own = {name: value.copy() for name, value in vars(kept).items() if isinstance(value, np.ndarray | list)}
    return replace(kept, **own)


def _alike(first, second) -> bool:
    """Are two linkages the same, and in the same order?"""
    return first == second and list(first.links) == list(second.links)


def _found(linkage, held, drive) -> Facts:
    whole = reach(linkage, held=held, drive=drive)
    motion = move(linkage, whole.values(GRID * whole.turns), held=held, drive=drive, speed=1.0)
    output = linkage.output if linkage.output not in (None, linkage.fixed) else _last_output(linkage)
    again = Mover(linkage, motion, output, held, whole)
    limits = _limits(again, motion)
    klass, case = grashof(*lengths) if (lengths := four_bar_lengths(linkage)) else (None, None)
    swing, stroke, extremes_at = _travel(again, motion, limits)
    return Facts(
        output, klass, case, limits, again.output(limits), whole.ranges, whole.dead_centres, swing,
        stroke, _time_ratio(whole, extremes_at), extremes(again, motion), motion.change_points,
    )  # fmt: skip


def grashof(ground, crank, coupler, rocker):
    """The class of a four-bar by Grashof's criterion, and the case if it is a change point.

    The sum of the shortest and the longest link is compared with the sum of the other two; if it is less, the
    shortest link can turn fully against the others, and which link that is gives the class.
    Source: F. Grashof, Theoretische Maschinenlehre (1883), as in every text on kinematics.

    Examples
    --------
    >>> grashof(0.4, 0.1, 0.35, 0.25)
    ('crank-rocker', None)
    """
    names = ("ground", "crank", "coupler", "rocker")
    given = zip(names, (ground, crank, coupler, rocker), strict=True)
    sizes = np.array([positive(x, f"{name} must be a length in metres") for name, x in given])
    if sizes.ndim > 1:
        raise LinkageError("the class is found for one four-bar at a time, not for a family")
    short, *_, long = np.sort(sizes)
    if long >= sizes.sum() - long:
        raise LinkageError("these links never close: the longest must be shorter than the other three together")
    spare = sizes.sum() - 2 * (short + long)
    by_shortest = ("double-crank", "crank-rocker", "double-rocker", "rocker-crank")[int(np.argmin(sizes))]
    if abs(spare) > EQUAL * sizes.sum():
        return (by_shortest, None) if spare > 0 else ("triple-rocker", None)
    same = lambda a, b: abs(a - b) <= EQUAL * sizes.sum()  # noqa: E731
    if same(ground, coupler) and same(crank, rocker):
        return "change point", "parallelogram"
    if (same(ground, crank) and same(coupler, rocker)) or (same(ground, rocker) and same(crank, coupler)):
        return "change point", "kite"
    return "change point", by_shortest


def four_bar_lengths(linkage):
    """The lengths fixed, input, coupler, output of a linkage that is one four-bar; None for any other."""
    if len(linkage.links) != 4 or linkage.slides or len(linkage_groups(linkage)) != 2:
        return None
    chain = breakdown(linkage)[0]
    if chain.kind != "four-bar":
        return None
    o, a, b, q = chain.pairs
    return tuple(linkage.length(*ends) for ends in ((o, q), (o, a), (a, b), (b, q)))


def _last_output(linkage):
    named = [chain.output for chain in breakdown(linkage) if chain.output]
    return named[-1] if named else linkage.moving[-1]


class Mover:
    """One linkage, ready to be moved again to any values of its input."""

    def __init__(self, linkage, motion, output, held, whole):
        self.linkage, self.link, self.held, self.drive, self.whole = linkage, output, held, motion.drive, whole
        turned = motion.rotation(output)[motion.ok]
        self.turning = bool(np.abs(turned - turned[0]).max() > TURNS)
        self.slides = any({output, linkage.fixed} == {s.block, s.on} for s in linkage.slides)
        self.along = None if self.turning else _direction(motion, output)
        self.mark = linkage.points[linkage.links[output][0]] if linkage.links[output] else 0j

    @property
    def period(self):
        """The input after which the motion repeats, radians; None if it goes to and fro."""
        return 2 * np.pi * self.whole.turns if self.whole.round else None

    def __call__(self, values):
        return move(self.linkage, values, held=self.held, drive=self.drive, speed=1.0)

    def output(self, values):
        """The output's angle or displacement at some values of the input."""
        return self.of(self(np.asarray(values, dtype=float))) if len(values) else np.array([])

    def of(self, motion):
        """The output's angle, or its displacement along the line on which it slides."""
        if self.turning:
            return motion.angle(self.link)
        return (np.conj(self.along) * (motion.place(self.link, self.mark) - self.mark)).real

    def rate(self, motion):
        """The output's first kinematic coefficient in a motion of unit speed."""
        if self.turning:
            return motion.angular_velocity(self.link)
        return (np.conj(self.along) * motion.velocity_at(self.link, motion.place(self.link, self.mark))).real


def _direction(motion, link):
    """The direction in which a link that does not turn travels farthest."""
    slide = [s.direction for s in motion.linkage.slides if link == s.block and s.on == motion.linkage.fixed]
    if slide:
        return slide[0]
    spots = motion.place(link, 0j)[motion.ok]
    far = spots[np.argmax(np.abs(spots - spots[0]))] - spots[0]
    return far / abs(far) if abs(far) > 0 else 1 + 0j


def _limits(again, motion):
    """Where the output turns back: roots of its first kinematic coefficient, each bracketed by a change of sign."""
    values, rate = motion.input, again.rate(motion)
    clear = np.isfinite(rate)
    clear[clear] = np.abs(rate[clear]) > STILL * np.abs(rate[clear]).max(initial=0)
    values, rate = values[clear], rate[clear]
    if again.period and len(values):
        values, rate = np.append(values, values[0] + again.period), np.append(rate, rate[0])
    at = np.flatnonzero(rate[:-1] * rate[1:] < 0)
    if not len(at):
        return np.array([])
    found, left = _roots(again, values[at], values[at + 1])
    found = found[np.abs(left) < 1e-6 * np.maximum(np.abs(rate[at]), np.abs(rate[at + 1]))]  # a root, and no pole
    return np.sort(found % again.period) if again.period else found


def _roots(again, low, high):
    """The roots between some values, and what is left of the coefficient there."""
    from scipy.optimize.elementwise import find_root

    rate = lambda x: again.rate(again(np.atleast_1d(x)))  # noqa: E731
    found = find_root(rate, (low, high), tolerances={"xatol": 1e-14, "xrtol": 1e-15, "fatol": 0, "frtol": 0})
    return np.atleast_1d(found.x), np.atleast_1d(found.f_x)


def _travel(again, motion, limits):
    """Swing or stroke, and the input values at the extremes of the output."""
    out, ends = again.of(motion), limits if again.period else np.append(limits, again.whole.here)
    if again.turning and _goes_round(again, out):
        return 2 * np.pi, None, None
    values, outs = (ends, _near_branch(again, motion, out, ends)) if len(ends) > 1 else (motion.input, out)
    low, high = np.nanargmin(outs), np.nanargmax(outs)
    span = float(outs[high] - outs[low])
    swing, stroke = (span, None) if again.turning else (None if again.slides else 0.0, span)
    return swing, stroke, (values[low], values[high])


def _near_branch(again, motion, out, ends):
    """The output at some inputs, its angle named on the same turn as the nearest position of the cycle."""
    exact = np.array([_output_at(again, x) for x in ends])
    if not again.turning:
        return exact
    apart = np.abs(motion.input[None] - ends[:, None])
    nearest = np.argmin(np.where(np.isfinite(out), apart, np.inf), axis=1)
    return exact + 2 * np.pi * np.round((out[nearest] - exact) / (2 * np.pi))


def _output_at(again, value):
    """The output at an input value; at an end of the range, which rounding may put just out of reach, a hair inside."""
    inside = value if again.whole.round else float(np.mean(again.whole.here))
    for share in (0.0, 1e-15, 1e-14, 1e-13, 1e-12):  # the output is off by the root of this at most
        found = again.output([value + share * (inside - value)])[0]
        if np.isfinite(found):
            break
    return found


def _goes_round(again, out):
    if not again.period:
        return bool(np.nanmax(out) - np.nanmin(out) >= 2 * np.pi)
    closing = np.angle(np.exp(1j * (out[0] - out[-1])))
    return bool(abs(out[-1] + closing - out[0]) > np.pi)


def _time_ratio(whole, extremes_at):
    if extremes_at is None or not whole.round:
        return None
    period = 2 * np.pi * whole.turns
    turn = abs(extremes_at[1] - extremes_at[0]) % period
    short, long = sorted((turn, period - turn))
    return float(long / short) if short > 0 else None
