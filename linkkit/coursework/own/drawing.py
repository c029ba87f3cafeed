"""A machine whose sketch each student has with some points moved: from numbers to a linkage, one or many at once."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from pathlib import Path

import numpy as np

from ...errors import LinkageError
from ...facts import Facts, facts
from ...linkage import Linkage
from ...machine_file import read
from ...motion import move
from ...transmission import angles
from ..givens import SCALES, Given, Setting
from .lines import coded, on_a_slide, redrawn
from .story import story as told

COLUMN = 36  # positions of a cycle at which a candidate is tried
WIDE = 90  # signs of a line of code that a page has room for
SQUARE = 30  # degrees: the least transmission angle of a fair position


@dataclass(frozen=True, eq=False)
class Drawn(Setting):
    """A setting that knows its machine: `linkage` as the file draws it, `drive` the name of the input that drives.

    `code` makes the student's machine in the notebook, from their numbers.
    """

    code: str = ""
    linkage: Linkage | None = None
    drive: str = ""

    @property
    def turning(self) -> bool:
        """Is the input an angle?"""
        return self.linkage.inputs[0].kind == "angle"

    def moved(self, g, values=None, *, cycle: bool = False):
        """The student's machine at the given input (or at `values`), at unit speed of the input.

        With `cycle` the values are a row for every student.
        """
        return move(self.machine(g, cycle), here(g) if values is None else values, speed=1.0)


def beside(file, name: str) -> Linkage:
    """The machine of a machine file that lies beside an assignment's file: ``beside(__file__, "sluice.toml")``."""
    return read(Path(file).resolve().parent / name)


def here(g):
    """The value of the driving input that a student is given, radians or metres."""
    return g.input


def attribute(point: str, others: Sequence[str]) -> str:
    """The name in code of a point's coordinates; another one for each of the points.

    Examples
    --------
    >>> attribute("A", ["A", "B"]), attribute("left pin", ["left pin"]), attribute("2", ["1", "2"])
    ('A', 'left_pin', 'p_2')
    """
    plain = [_plain(p) for p in others]
    name = _plain(point)
    return name if plain.count(name) == 1 else f"{name}_{list(others).index(point) + 1}"


def _plain(point: str) -> str:
    name = re.sub(r"\W", "_", point, flags=re.ASCII)
    return name if name.isidentifier() else f"p_{name}"


def drawn(linkage: Linkage, *, id: str, points: dict | None = None, input_deg=None, input_mm=None, speed_rpm=None,
          way_mm=None, load_newton=None, title: str = "", story: str | None = None, version: int = 1, least_deg: float = SQUARE,
          throughout: bool = False) -> Drawn:  # fmt: skip
    """A machine with numbers of the student's own.

    Parameters
    ----------
    linkage : Linkage
        As its file draws it; its first input drives, others stay as drawn.
    points : dict of str to (values of x, values of y)
        The points of the sketch that differ from student to student, in millimetres. The other points stay, and so do
        the lines of slides, but for those that a point takes along (see `lines.line_of`): so another point that lies
        on such a line cannot be among them.
    input_deg, input_mm : sequence of int
        Where the input may stand: one of the two, as the input is a pin or a slide.
    speed_rpm, way_mm : sequence of int
        How fast the input may move: revolutions a minute of a pin, millimetres in a second of a slide.
    load_newton : sequence of int
        The forces that may be asked about.
    story : str, optional
        What stands above the numbers, in Markdown: from the machine itself if not given.
    least_deg, throughout
        Every chain transmits at no less than this angle at the student's position (throughout its motion).

    Raises
    ------
    LinkageError
        If a point is not there or lies on a slide, or the input's values are those of the other kind.
    """
    points = dict(points or {})
    _check(linkage, points, input_deg, input_mm)
    for p, xy in points.items():
        if not isinstance(xy, tuple | list) or len(xy) != 2:
            raise LinkageError(
                f"points: {p} needs the values of x and those of y, as in (range(-40, 50, 10), [160, 170])"
            )
    table = [g for p, xy in points.items() for g in _coordinates(linkage, p, xy)]
    drive = linkage.inputs[0].name
    more = {
        "input_deg": (f"direction of {drive}", input_deg), "input_mm": (f"length of {drive}", input_mm),
        "speed_rpm": (f"speed of {drive}, anticlockwise", speed_rpm), "way_mm": (f"{drive} grows in a second by", way_mm),
        "load_newton": ("load", load_newton),
    }  # fmt: skip
    table += [Given(name, label, _whole(name, values)) for name, (label, values) in more.items() if values is not None]
    machine = Redrawing(linkage, tuple(points))
    story = told(linkage, points, caution="") if story is None else story
    made = Drawn(id, version, title or linkage.name, story, tuple(table), lambda g: np.True_, machine, machine.code(_variable(id)),
                 linkage, drive)  # fmt: skip
    return replace(made, fits=lambda g: fair(made, g, np.radians(least_deg), throughout))


def _check(linkage, points, input_deg, input_mm) -> None:
    for p in points:
        linkage._know_points(p)
        if on_a_slide(linkage, p):
            raise LinkageError(
                f"point {p} lies on the line of a slide, so it cannot be moved by itself: take another one"
            )
    angle = linkage.inputs[0].kind == "angle"
    if (input_deg is None) == angle or (input_mm is None) != angle:
        raise LinkageError(
            f"the input {linkage.inputs[0].name} is {'a pin: give input_deg' if angle else 'a slide: give input_mm'}"
        )


def _coordinates(linkage, point: str, xy) -> list[Given]:
    name = attribute(point, list(linkage.points))
    return [
        Given(f"{name}_{axis}_mm", f"{point}, {axis}", _whole(f"{axis} of point {point}", values))
        for axis, values in zip("xy", xy, strict=True)
    ]


def _whole(what: str, values) -> tuple[int, ...]:
    """The values of a number, or a sentence: at least one, and whole, for that is how students are given them."""
    good = not isinstance(values, str) and np.iterable(values) and len(values) > 0
    if not good or any(
        isinstance(v, bool) or not isinstance(v, int | float | np.number) or v != int(v) for v in values
    ):
        raise LinkageError(
            f"{what} needs a list of whole numbers, as in range(30, 125, 5) or [30, 45, 60], not {values!r:.60}"
        )
    return tuple(map(int, values))


def _variable(setting: str) -> str:
    return setting.rpartition("-")[2]


@dataclass(frozen=True, eq=False)
class Redrawing:
    """The linkage with the student's points; many at once where the numbers are arrays."""

    linkage: Linkage
    points: tuple[str, ...]

    def __call__(self, g, column: bool = False) -> Linkage:
        if not any(np.ndim(g.values[f"{attribute(p, list(self.linkage.points))}_x_mm"]) for p in self.points):
            return self.at(self.places(g))  # the same for all questions, so that what is known of it is kept
        spots = {p: self._spot(g, p, column) for p in self.points}
        return _drawn_at(self, spots)

    def places(self, g) -> tuple:
        """Where one student's own points lie, to know a machine by."""
        return tuple(complex(self._spot(g, p, False)) for p in self.points)

    def at(self, places: tuple) -> Linkage:
        """The linkage with its own points at these places; one object for each."""
        return _redrawn(self, places)

    def _spot(self, g, p, column):
        name = attribute(p, list(self.linkage.points))
        z = (np.asarray(g.values[f"{name}_x_mm"]) + 1j * np.asarray(g.values[f"{name}_y_mm"])) * SCALES["mm"]
        return z[..., None] if column else z[()]

    def code(self, variable: str) -> str:
        """The same as a cell of the notebook, with public names only."""
        k, all_points = self.linkage, list(self.linkage.points)
        own = {p: attribute(p, all_points) for p in self.points}
        spot = lambda p: f"{variable}.{own[p]}_x + 1j * {variable}.{own[p]}_y" if p in own else _complex(k.points[p])  # noqa: E731
        lines = ["machine = lk.Linkage(", "    {", *_rows(f'"{p}": {spot(p)}' for p in all_points), "    },"]
        lines += ["    {", *_rows(f"{_py(link)}: {_py(carried)}" for link, carried in k.links.items()), "    },"]
        lines += [
            f"    {_py(k.fixed)},",
            *_listed("slides", (_slide(s, coded(k, s, self.points, spot, _complex)) for s in k.slides)),
            *_listed("inputs", map(_input, k.inputs)),
        ]
        lines += [f"    output={_py(k.output)},", ")", "lk.draw.line_diagram(machine)"]
        return "\n".join(lines)


def _rows(entries) -> list[str]:
    """Entries of a table, as many to a line as there is room for."""
    lines = [" " * 7]
    for entry in entries:
        if len(lines[-1]) + len(entry) > WIDE:
            lines.append(" " * 7)
        lines[-1] += f" {entry},"
    return lines


def _listed(name: str, entries) -> list[str]:
    """A list, an entry a line; nothing where it is empty."""
    entries = list(entries)
    return [f"    {name}=[", *(f"        {entry}," for entry in entries), "    ],"] if entries else []


def _py(value) -> str:
    """A name, or some, as code, in the quotes of the rest."""
    text = repr(value)
    return text if '"' in text or "\\" in text else text.replace("'", '"')


def _complex(z) -> str:
    return f"{float(z.real)!r} + {float(z.imag)!r}j" if z.imag >= 0 else f"{float(z.real)!r} - {-float(z.imag)!r}j"


def _slide(s, along: tuple[str, str]) -> str:
    parts = [", ".join(map(_py, (s.name, s.block, s.on))), *along]
    long = len(", ".join(parts)) > WIDE
    return "lk.Slide(" + (",\n            " if long else ", ").join(parts) + ("\n        )" if long else ")")


def _input(i) -> str:
    return f"lk.Input({_py(i.name)}, {_py(i.kind)}, {_py(i.at)}, {_py(i.links)}, {i.span!r})"


@lru_cache(maxsize=256)
def _redrawn(machine: Redrawing, places: tuple) -> Linkage:
    return _drawn_at(machine, dict(zip(machine.points, places, strict=True)))


def _drawn_at(machine: Redrawing, spots: dict) -> Linkage:
    """The linkage with its own points there, and with the lines of slides that they take along."""
    points = machine.linkage.points | spots
    return replace(machine.linkage, points=points, slides=redrawn(machine.linkage, points, machine.points), masses={})


@lru_cache(maxsize=4096)
def _facts(setting: Drawn, places: tuple) -> Facts:
    return facts(setting.machine.at(places))


def facts_of(setting: Drawn, g) -> Facts:
    """The facts of one student's machine, found once for each machine."""
    return _facts(setting, setting.machine.places(g))


def fair(setting: Drawn, g, least: float, throughout: bool) -> np.ndarray:
    """Which candidates assemble at the student's input, transmit squarely there, and turn as fully as the machine drawn."""
    good = squarely(setting.moved(g), least)
    if setting.turning and setting.linkage.inputs[0].span is None and goes_round(setting):
        motion = setting.moved(g, np.arange(COLUMN) * (2 * np.pi / COLUMN), cycle=True)
        whole = squarely(motion, least) if throughout else motion.ok
        good = good & whole.all(axis=-1)
    return good


def squarely(motion, least: float) -> np.ndarray:
    """Where it assembles and every chain transmits at no less than `least`."""
    good = np.array(motion.ok)
    for angle in angles(motion):
        with np.errstate(invalid="ignore"):
            good &= (angle >= least) & (angle <= np.pi - least)
    return good


def goes_round(setting: Drawn) -> bool:
    """Does the input of the machine as drawn turn all the way?"""
    kept = setting.linkage.__dict__
    if "_goes_round" not in kept:
        kept["_goes_round"] = bool(move(setting.linkage, np.arange(COLUMN) * (2 * np.pi / COLUMN)).ok.all())
    return kept["_goes_round"]
