"""The problems that the literature compares path generation by: `python tests/path_problems.py` prints our table of them.

It is the table of docs/design.md. Each linkage found is moved again, and its crank angles and bounds are looked at.

Sources: 1 J. A. Cabrera, A. Simon, M. Prado, Mech. Mach. Theory 37 (2002) 1165-1177. 2 S. K. Acharyya, M. Mandal, Mech. Mach. Theory
44 (2009) 1784-1794; A. Kunjur, S. Krishnamurty, J. Mech. Robotics and Appl. 4 (1997) 18-24. 3 C. W. Wampler, A. P. Morgan, A. J. Sommese,
J. Mech. Des. 114 (1992) 153-159, problem 3. 4 A. P. Morgan, C. W. Wampler, J. Mech. Des. 112 (1990) 544-550, problem 7, as given with a
solution in the manual of PHCpack (J. Verschelde). Targets and bounds of 1 and 2 are from memory.
"""

from __future__ import annotations

import time
from dataclasses import dataclass, field

import numpy as np

import linkkit as lk
from linkkit.design import Grashof, Transmission, four_bar_for_path

UPRIGHT = 20 + 1j * np.arange(20, 46, 5.0)
LEAF = np.array([
    0.5 + 1.1j, 0.4 + 1.1j, 0.3 + 1.1j, 0.2 + 1j, 0.1 + 0.9j, 0.05 + 0.75j, 0.02 + 0.6j, 0.5j, 0.4j, 0.03 + 0.3j,
    0.1 + 0.25j, 0.15 + 0.2j, 0.2 + 0.3j, 0.3 + 0.4j, 0.4 + 0.5j, 0.5 + 0.7j, 0.6 + 0.9j, 0.6 + 1j,
])  # fmt: skip
TIMED = np.radians(20 * np.arange(18))
ELLIPSE = 10 + 10 * np.cos(np.radians(40 * np.arange(10))) + 1j * (10 + 8 * np.sin(np.radians(40 * np.arange(10))))
NINE = np.array([0.25, 0.52 + 0.1j, 0.8 + 0.7j, 1.2 + 1j, 1.4 + 1.3j, 1.1 + 1.48j, 0.7 + 1.4j, 0.2 + 1j, 0.02 + 0.4j])
FIVE = np.array([-0.83 - 0.27j, -0.34 + 0.22j, -0.13 + 0.43j, 0.22 + 0.78j, 0.50 + 1.06j])
LEAF_BEST = 0.00902888  # the sum of squares of an independent multistart of 12 variables; no smaller one is known to us
BARS, REST = ("ground", "crank", "coupler", "rocker"), ("along", "across", "x", "y")


def within(bars, rest):
    """The bounds of a problem: of the bars, and of the tracer and the crank's pivot to either side."""
    return dict.fromkeys(BARS, bars) | dict.fromkeys(REST, (-rest, rest))


UPRIGHT_RANGES = within((5, 60), 60)


@dataclass(frozen=True)
class Problem:
    """What is to be passed, within which bounds, how widely it is looked for, and the best to compare with."""

    name: str
    bounds: str
    places: np.ndarray
    best: str
    tries: int = 100_000
    asked: dict = field(default_factory=dict)

    def solved(self):
        """Our best design, and the seconds of one core's work."""
        start = time.process_time()
        one = four_bar_for_path(self.places, **{"within": 1e-6, "tries": self.tries} | self.asked).best
        return one, time.process_time() - start

    def row(self):
        """One row of the table."""
        one, seconds = self.solved()
        return f"| {self.name} | {self.bounds} | {self.tries:,} | {squares(one, self.places):.3g} | {self.best} | {seconds:.1f} s |"


def cranks(one):
    """The crank's directions at the places."""
    return np.array([value for name, value in one.values.items() if name.split()[0] == "crank" and name[-1].isdigit()])


def squares(one, places):
    """The sum of squares of the misses, by moving the linkage; the crank must go one way, by less than a turn."""
    turned = np.diff(cranks(one))
    assert (np.sign(turned) == np.sign(turned[0])).all()
    assert abs(turned.sum()) < 2 * np.pi
    return float((np.abs(lk.move(one.linkage, cranks(one)).point("P") - places) ** 2).sum())


ROUND, LEAST_30 = {"closed": True}, [Transmission(np.radians(30))]
EASY = {"limits": [Grashof("crank-rocker"), Transmission(np.radians(40))]}
LEAF_RANGES = {"ranges": within((1e-3, 50), 50)}
NONE = "no published one could be read"
PROBLEMS = (
    Problem("six points of an upright line, crank angles free (1)", "bars 5 to 60, the rest ±60", UPRIGHT,
            "0 is the least possible", asked={"ranges": UPRIGHT_RANGES}),
    Problem("the same, crank-rocker, transmission angle 40° or more", "the same", UPRIGHT, "0 is the least possible",
            asked={"ranges": UPRIGHT_RANGES} | EASY),
    Problem("leaf of 18 points, 20° of crank from each to the next (1, 2)", "bars up to 50, the rest ±50", LEAF,
            "0.00903, an independent multistart over all variables", asked={"timing": TIMED} | ROUND | LEAF_RANGES),
    Problem("the same leaf, crank angles free, full turn", "the same", LEAF, NONE, 400_000, ROUND | LEAF_RANGES),
    Problem("the same, transmission angle 30° or more", "the same", LEAF, NONE, 400_000,
            ROUND | LEAF_RANGES | {"limits": LEAST_30}),
    Problem("ellipse of 10 points (9 different), angles free, full turn (2)", "bars 5 to 80, the rest ±80", ELLIPSE, NONE,
            asked=ROUND | {"ranges": within((5, 80), 80)}),
    Problem("nine points of a closed path, angles free (3)", "none", NINE, "exact solutions are known to exist", 50_000, ROUND),
    Problem("five points of a slanting line, angles free (4)", "both pivots given", FIVE,
            "5 × 10⁻²¹, the published solution as printed: the same linkage", 40_000, {"pivots": (0, 1)}),
)  # fmt: skip


def main():
    """Print the table."""
    print("| problem | bounds | candidates | our sum of squares | the best to compare with | time |")
    print("|---|---|---|---|---|---|")
    for problem in PROBLEMS:
        print(problem.row(), flush=True)


if __name__ == "__main__":
    main()
