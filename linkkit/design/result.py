"""What a design call returns: candidates in order of merit, each with its numbers and its defects in words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

CAUTION = "Kinematics only: strength, wear, guards and safe use are for a qualified engineer under the local codes."


ANGLES = ("swing", "start", "end", "frame", "crank from", "crank to", "crank pointer", "rocker pointer")


def quantity(name, value):
    """A chosen value with its unit: an angle in degrees, a ratio, or else a length in millimetres.

    Examples
    --------
    >>> quantity("swing", np.pi / 3), quantity("time ratio", 1.2), quantity("rod", 0.25)
    ('60.000 deg', '1.2000', '250.000 mm')
    """
    if name in ANGLES or (name.startswith("crank ") and name.split()[-1].isdigit()):
        return f"{np.degrees(value):.3f} deg"
    return f"{value:.4f}" if name == "time ratio" else f"{1000 * value:.3f} mm"


@dataclass(frozen=True, eq=False)
class Design:
    """One linkage with what was asked of it.

    Attributes
    ----------
    linkage : Linkage
    values : dict of str to float
        The dimensions that were chosen, metres or radians.
    figures : dict of str to str
        What it does, in words with units.
    misses : dict of str to float
        The largest miss of each aim, in the aim's unit.
    error : float
        The root mean square of all misses, each in units of what its aim allows; 0 is perfect, and at most 1 is met.
    defects : tuple of str
        What is wrong, a sentence each; empty for a good design.
    motion : Motion
        The fine grid on which all this was found.
    """

    linkage: object
    values: dict
    figures: dict
    misses: dict
    error: float
    defects: tuple
    motion: object = field(repr=False)

    @property
    def good(self):
        """Whether nothing was found wrong."""
        return not self.defects

    @property
    def rank(self):
        """What designs are ordered by: the number of defects, then the error."""
        return len(self.defects), self.error if np.isfinite(self.error) else np.inf

    def __str__(self):
        values = ", ".join(f"{name} {quantity(name, value)}" for name, value in self.values.items())
        said = [f"{what}: {value}" for what, value in self.figures.items()]
        return "\n".join([values, *said, *(self.defects or ("no defect found",)), CAUTION])


@dataclass(frozen=True, eq=False)
class Designs(Sequence):
    """Designs, best first.

    Attributes
    ----------
    tried : int
        How many candidates were looked at.
    stopped : bool
        Whether the search was told to stop before its end.
    seed : int or None
    """

    found: tuple
    tried: int = 1
    stopped: bool = False
    seed: int | None = None

    @property
    def best(self) -> Design:
        """The first."""
        return self.found[0]

    def __getitem__(self, index):
        return self.found[index]

    def __len__(self):
        return len(self.found)

    def __str__(self):
        rows = [f"{n}. error {d.error:.3g}; {'; '.join(d.defects) or 'no defect'}" for n, d in enumerate(self, 1)]
        return "\n".join([f"{len(self)} of {self.tried} candidates" + " (stopped early)" * self.stopped, *rows])


@dataclass(frozen=True)
class Progress:
    """How far a search has come: `done` of `total`, the least error so far, and which stage it is in."""

    done: int
    total: int
    best: float
    stage: str


class Watch:
    """Tells the caller how a search gets on, and asks whether to stop."""

    def __init__(self, progress=None, stop=None):
        self._progress, self._stop, self.stopped, self.best = progress, stop, False, np.inf

    def told(self, done, total, best, stage):
        """Report; true where the search is to end."""
        self.best = min(self.best, float(best))
        if self._progress:
            self._progress(Progress(done, total, self.best, stage))
        if self._stop and self._stop():
            self.stopped = True
        return self.stopped

    def __enter__(self):
        return self

    def __exit__(self, kind, error, trace):
        """Ctrl-C ends the search, not the program: what was found so far is kept."""
        if kind is KeyboardInterrupt:
            self.stopped = True
            return True
        return False


def ranked(designs, *, keep=None, **about) -> Designs:
    """The designs in order of merit."""
    return Designs(tuple(sorted(designs, key=lambda d: d.rank))[:keep], **about)
