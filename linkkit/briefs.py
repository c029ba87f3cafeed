"""Design briefs: what a linkage is to do, as a short TOML text.

    task = "crank-rocker"
    swing_deg = 40
    time_ratio = 1.25
    rocker_mm = 250

    [[limits]]
    kind = "transmission"
    least_deg = 40

Lengths are in millimetres and angles in degrees, and say so in their names. `linkkit design --help` lists the tasks.
"""

from __future__ import annotations

import tomllib
from dataclasses import dataclass, replace
from difflib import get_close_matches
from pathlib import Path

import numpy as np

from . import design
from .builders import four_bar, slider_crank
from .coursework.formula import FormulaError, parse, value_of
from .errors import LinkageError
from .machine_file import machine, machines, read

MM, DEG = 1e-3, np.pi / 180
NAMED = {"log10": np.log10, "log": np.log, "exp": np.exp}


class BriefError(LinkageError):
    """A brief that cannot be used: the file, the entry, what is wrong and what would be right."""


def number(given):
    """A plain number."""
    if isinstance(given, bool) or not isinstance(given, int | float):
        raise BriefError("must be a number")
    return float(given)


def scaled(by):
    """Numbers in a unit: one, or a list of them."""
    return lambda given: tuple(map(scaled(by), given)) if isinstance(given, list) else by * number(given)


mm, deg, plain, rpm = scaled(MM), scaled(DEG), scaled(1.0), scaled(2 * np.pi / 60)


def length(given):
    """A length in millimetres."""
    if number(given) <= 0:
        raise BriefError(f"must be more than 0 mm, not {given:g}")
    return mm(given)


def span(given):
    """A length, or a range of lengths."""
    if isinstance(given, list) and (len(given) != 2 or number(given[0]) > number(given[1])):
        raise BriefError(f"must be one number, or a range [low, high] with the lower one first, not {given}")
    return mm(given)


def whole(given):
    """A whole number."""
    if isinstance(given, bool) or not isinstance(given, int):
        raise BriefError("must be a whole number")
    return given


def points_of(given):
    """How many precision points, or the values of x themselves."""
    return whole(given) if isinstance(given, int) else np.array(plain(given))


def text(given):
    """A text."""
    if not isinstance(given, str):
        raise BriefError("must be a text in quotes")
    return given


def texts(given):
    """Names in a list."""
    return tuple(map(text, given)) if isinstance(given, list) else (text(given),)


def flag(given):
    """true or false."""
    if not isinstance(given, bool):
        raise BriefError("must be true or false")
    return given


def place(given):
    """A place in millimetres."""
    if not isinstance(given, list) or len(given) != 2:
        raise BriefError("must be a place, as [x, y] in millimetres")
    return MM * complex(*map(number, given))


def places(given):
    """Places in millimetres: a list, or the name of a table with two columns."""
    if isinstance(given, str):
        if not Path(given).is_file():
            raise BriefError(f"names {given}, which is no file here")
        try:
            table = np.loadtxt(given, delimiter=",", ndmin=2)
        except ValueError:
            raise BriefError(
                f"names {given}, which is not a table of two numbers a line with a comma between"
            ) from None
        given = table.tolist()
    if not isinstance(given, list):
        raise BriefError("must be a list of places [x, y], or the name of a table of them")
    return np.array([place(z) for z in given])


def pose(given):
    """A pose: x, y in millimetres and an angle in degrees."""
    if not isinstance(given, list) or len(given) != 3:
        raise BriefError("must hold poses, each [x, y, angle] in millimetres and degrees")
    x, y, turn = map(number, given)
    return design.Pose(MM * complex(x, y), DEG * turn)


def poses(given):
    """Poses in a list."""
    if not isinstance(given, list):
        raise BriefError("must be a list of poses, each [x, y, angle] in millimetres and degrees")
    return [pose(p) for p in given]


def path(given):
    """The places of a path."""
    found = places(given)
    if len(found) < 3:
        raise BriefError("must hold at least three places, as [[0, 0], [100, 20], [200, 0]]")
    return found


def function(given):
    """A function of x: a formula, or log10(x), log(x) or exp(x)."""
    if text(given).removesuffix("(x)") in NAMED:
        return NAMED[given.removesuffix("(x)")]
    try:
        tree = parse(given, ("x",))
    except FormulaError as error:
        raise BriefError(
            f'must be a formula in x, such as "1/x", or {", ".join(f"{n}(x)" for n in NAMED)}: {error}'
        ) from None
    return lambda x: float(value_of(tree, {"x": np.float64(x)}))


def some_machine(given):
    """A machine of linkkit's, or a machine file."""
    if text(given) in machines():
        return machine(given)
    if not Path(given).is_file():
        raise BriefError(f"{given!r} is no machine file here, and none of {', '.join(machines())}")
    return read(given)


def table(given):
    """A table of the brief."""
    if not isinstance(given, dict):
        raise BriefError("must be a table: its name in square brackets, and a line for each entry below it, as D = 50")
    return given


def kilograms(given):
    """The mass of each link."""
    return {link: number(mass) for link, mass in table(given).items()}


@dataclass(frozen=True)
class Entry:
    """One entry of a brief: what it is called there, the argument that it becomes, how it is read, whether it must be there."""

    key: str
    argument: str
    reads: object
    needed: bool = False


def entries(*rows):
    """Entries by key: (key, argument, how it is read); a `!` after the key marks one that must be there."""
    made = [Entry(key.rstrip("!"), argument, reads, key.endswith("!")) for key, argument, reads in rows]
    return {entry.key: entry for entry in made}


BETWEEN = ("between_deg", "between", deg)
HEAVY = (("masses_kg!", "masses", kilograms), ("speed_rpm!", "speed", rpm))
TURN, WAY = (("within_deg", "within", deg), BETWEEN), (("within_mm", "within", length), BETWEEN)
AIMS = {
    "level": (design.Level, entries(("link!", "link", text), *TURN)),
    "swing": (design.Swing, entries(("link!", "link", text), ("wanted_deg!", "wanted", deg), *TURN)),
    "lift": (design.Lift, entries(("point!", "point", text), ("wanted_mm!", "wanted", mm), *WAY)),
    "stroke": (design.Stroke, entries(("point!", "point", text), ("wanted_mm!", "wanted", mm), *WAY)),
    "time ratio": (design.TimeRatio, entries(("link!", "link", text), ("wanted!", "wanted", plain), ("within", "within", plain))),
    "through": (design.Through, entries(("point!", "point", text), ("places_mm!", "places", places), *WAY)),
    "straight": (design.Straight, entries(("point!", "point", text), *WAY)),
    "shaking": (design.LeastShaking, entries(*HEAVY, ("within_N!", "within", plain))),
    "torque": (design.EvenTorque, entries(*HEAVY, ("within_Nm!", "within", plain), ("gravity", "gravity", plain))),
}  # fmt: skip
LIMITS = {
    "transmission": (design.Transmission, entries(("least_deg!", "least", deg))),
    "class": (design.Grashof, entries(("wanted!", "wanted", text))),
    "length": (design.Length, entries(("from!", "p", text), ("to!", "q", text), ("low_mm", "low", mm), ("high_mm", "high", mm))),
    "lengths": (design.Lengths, entries(("low_mm", "low", mm), ("high_mm", "high", mm))),
    "room": (design.Room, entries(("points!", "points", texts), ("x_mm", "x", mm), ("y_mm", "y", mm))),
}  # fmt: skip
SEARCH = (("tries", "tries", whole), ("keep", "keep", whole), ("seed", "seed", whole))
TASKS = {
    "function": (design.four_bar_for_function, entries(
        ("function!", "function", function), ("x!", "x", plain), ("crank_deg!", "crank", deg), ("rocker_deg!", "rocker", deg),
        ("points", "points", points_of), ("ground_mm", "ground", length))),
    "poses": (design.four_bar_for_poses, entries(
        ("poses!", "poses", poses), ("pins_mm", "pins", places), ("pivots_mm", "pivots", places), ("reach_mm", "reach", length), *SEARCH)),
    "crank-rocker": (design.crank_rocker_for, entries(
        ("swing_deg!", "swing", deg), ("time_ratio", "time_ratio", plain), ("rocker_mm", "rocker", length), ("longest", "longest", plain))),
    "slider-crank": (design.slider_crank_for, entries(
        ("stroke_mm!", "stroke", length), ("time_ratio", "time_ratio", plain), ("rod_mm", "rod", length))),
    "quick-return": (design.quick_return_for, entries(
        ("stroke_mm!", "stroke", length), ("time_ratio!", "time_ratio", plain), ("crank_mm!", "crank", length),
        ("link_mm", "link", length))),
    "straight-line": (design.straight_line_for, entries(
        ("stroke_mm!", "stroke", length), ("form", "kind", text), ("crank_range_deg", "crank_range", deg))),
    "path": (design.four_bar_for_path, entries(
        ("places_mm!", "places", path), ("timing_deg", "timing", deg), ("closed", "closed", flag),
        ("pivots_mm", "pivots", places), ("within_mm", "within", length), *SEARCH)),
    "sketched curve": (None, entries(("places_mm!", "places", path), ("keep", "keep", whole), ("within_mm", "within", length))),
    "search": (design.search, entries(
        ("machine", "machine", some_machine), ("free_mm", "free", table), ("four-bar_mm", "four_bar", table),
        ("slider-crank_mm", "slider_crank", table), ("over_deg", "over", deg), *SEARCH)),
}  # fmt: skip
WITH_LIMITS = {"poses", "path", "sketched curve", "search"}
WITHOUT_END = {"function", "crank-rocker", "slider-crank", "quick-return", "straight-line"}


@dataclass(frozen=True)
class Brief:
    """A brief that was read: its task, and `run(progress=, stop=)`, which returns the designs."""

    task: str
    title: str
    run: object
    places: object = None  # what a path is to pass, for its picture


def read_brief(path) -> Brief:
    """Read a brief.

    Raises
    ------
    BriefError
        With the file and the entry, what is wrong and what would be right.
    """
    path = Path(path)
    try:
        given = tomllib.loads(path.read_text(encoding="utf-8"))
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        raise BriefError(f"{path.name} is not TOML: {error}") from None
    try:
        brief = _brief(given)
    except LinkageError as error:
        raise BriefError(f"{path.name}: {error}") from None
    return replace(brief, run=_telling(path.name, brief.run))


def _telling(file, run):
    """The same run, whose errors name the file."""

    def told(**watching):
        try:
            return run(**watching)
        except LinkageError as error:
            raise BriefError(f"{file}: {error}") from None

    return told


def _brief(given):
    task = _task(given.pop("task", None))
    title, limits, aims = given.pop("title", task), given.pop("limits", []), given.pop("aims", [])
    if not isinstance(title, str):
        raise BriefError("title must be a text in quotes")
    limits, aims = _all_of(LIMITS, "limits", limits), _all_of(AIMS, "aims", aims)
    if aims and task != "search":
        raise BriefError("aims are for the task search; this task has its own")
    if limits and task not in WITH_LIMITS:
        raise BriefError(
            f"limits do not belong to the task {task}, which has a closed form; see its candidates' figures"
        )
    call, known = TASKS[task]
    arguments = _arguments(known, given, f"the task {task}")
    if not aims and task == "search":
        raise BriefError(f"a search needs at least one [[aims]], each with a kind: {', '.join(AIMS)}")
    if task in WITH_LIMITS:
        arguments["limits"] = limits
    if task == "search":
        arguments |= {"space": _space(arguments), "aims": aims}
    return Brief(task, title, _run(task, call, arguments), arguments.get("places"))


def _task(given):
    """A task that there is."""
    if given is None:
        raise BriefError(f'there is no line task = "..." at the top; it is one of {", ".join(TASKS)}')
    if given not in TASKS:
        near = get_close_matches(str(given), TASKS, 1)
        hint = f" (did you mean {near[0]}?)" if near else ""
        raise BriefError(f"task must be one of {', '.join(TASKS)}, not {given!r}{hint}")
    return given


def _run(task, call, arguments):
    def run(**watching):
        if task == "sketched curve":
            return design.curve_index(**watching).find(**arguments, **watching)
        return call(**arguments, **({} if task in WITHOUT_END else watching))

    return run


def _arguments(known, given, what):
    """The entries of a table as arguments."""
    found = {}
    for key, value in given.items():
        if key not in known:
            near = get_close_matches(key, known, 1)
            hint = f" (did you mean {near[0]}?)" if near else ""
            raise BriefError(f"{what} has no entry {key!r}{hint}; it knows {', '.join(known)}")
        try:
            found[known[key].argument] = known[key].reads(value)
        except (BriefError, TypeError, ValueError) as error:
            raise BriefError(f"{key} {error}" if isinstance(error, BriefError) else f"{key}: {error}") from None
    missing = [entry.key for entry in known.values() if entry.needed and entry.key not in given]
    if missing:
        raise BriefError(f"{what} needs {' and '.join(missing)}")
    return found


def _all_of(kinds, table, given):
    """The aims or the limits."""
    if not isinstance(given, list):
        raise BriefError(
            f"{table} stand in tables of their own: a line [[{table}]] and below it a kind, and what it needs"
        )
    return [_one_of(kinds, table, part) for part in given]


def _one_of(kinds, table, given):
    """An aim or a limit of a table of its own."""
    if not isinstance(given, dict) or given.get("kind") not in kinds:
        raise BriefError(f"each of [[{table}]] needs a kind: one of {', '.join(kinds)}")
    make, known = kinds[given["kind"]]
    rest = {key: value for key, value in given.items() if key != "kind"}
    return make(**_arguments(known, rest, f"{given['kind']} in [[{table}]]"))


def _space(arguments):
    """What the search may choose: points of a machine, or the lengths of a four-bar or a slider-crank."""
    start, free = arguments.pop("machine", None), arguments.pop("free", None)
    bars, sliders = arguments.pop("four_bar", None), arguments.pop("slider_crank", None)
    if sum(x is not None for x in (start, bars, sliders)) != 1 or (start is None) != (free is None):
        raise BriefError("a search needs machine and [free_mm], or [four-bar_mm], or [slider-crank_mm]")
    if start is not None:
        return design.Sketch(start, _each(free, mm))
    build, ranges = (four_bar, bars) if bars is not None else (slider_crank, sliders)
    wanted = ("ground", "crank", "coupler", "rocker") if build is four_bar else ("crank", "rod", "offset")
    if set(ranges) != set(wanted):
        raise BriefError(f"give each of {', '.join(wanted)} a length or a range [low, high] in millimetres")
    return design.Dimensions(build, **_each(ranges, span))


def _each(given, reads):
    """The entries of a table, all read alike."""
    return _arguments({k: Entry(k, k, reads) for k in given}, given, "the table")
