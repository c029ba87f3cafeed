"""Machine files: a linkage as a short TOML text that a lecturer can write by hand from a photograph or a drawing.

    name = "Ice chopper"
    about = "A crank and a long rod drive the chopper up and down."
    unit = "mm"
    fixed = "frame"
    output = "chopper"

    [points]
    O = [0, 0]
    A = [0, 90]

    [links]
    frame = ["O"]
    crank = ["O", "A"]

    [slides.guide]
    block = "chopper"
    on = "frame"
    through = [0, 0]
    toward = [0, 100]

    [inputs.crank]
    pin = "O"
    links = ["frame", "crank"]
    span_deg = [0, 90]

A slide's line runs through a point of the sketch toward another (or at `angle_deg`); both may be names of points.
An input names a pin, or a slide, and the links it stands between: reference first, driven second. Its span is
optional: `span_deg` for a pin, `span` (in the file's unit) for a slide. Masses are optional too: see `machine_masses`.
"""

from __future__ import annotations

from decimal import Decimal
from importlib import resources
from pathlib import Path

from .errors import LinkageError, MachineError
from .linkage import Linkage, is_family
from .machine_reader import LARGEST, SHIFT, MachineReader
from .quantity import shown


def read(path) -> Linkage:
    """Read a machine file.

    Raises
    ------
    MachineError
        With the file, the line, what is wrong there and what would be right.

    Examples
    --------
    >>> import linkkit as lk, pathlib, tempfile
    >>> file = pathlib.Path(tempfile.mkdtemp()) / "bar.toml"
    >>> lk.write(lk.four_bar(0.4, 0.1, 0.35, 0.25), file)
    >>> lk.read(file) == lk.four_bar(0.4, 0.1, 0.35, 0.25)
    True
    """
    path = _path(path)
    try:
        with path.open("rb") as file:
            raw = file.read(LARGEST + 1)
    except FileNotFoundError:
        raise MachineError(f"{path}: there is no such file") from None
    except OSError as error:
        raise MachineError(f"{path}: the file cannot be read ({error.strerror})") from None
    return MachineReader(path.name, raw).linkage()


def machines() -> list[str]:
    """The names of the machines of Marrow Quay that come with linkkit."""
    return sorted(
        f.name[:-5] for f in resources.files("linkkit").joinpath("machines").iterdir() if f.name.endswith(".toml")
    )


def machine(name) -> Linkage:
    """One of the machines of Marrow Quay, by name.

    Examples
    --------
    >>> machine("net-shaker").output
    'tray'
    """
    if name not in machines():
        raise MachineError(f"there is no machine {name!r}; the machines are {', '.join(machines())}")
    source = resources.files("linkkit").joinpath("machines", f"{name}.toml")
    return MachineReader(source.name, source.read_bytes()).linkage()


def write(linkage, path, *, unit="m"):
    """Write a machine file that reads back as the same linkage, to the last digit.

    Raises
    ------
    LinkageError
        For a family (a file holds one linkage) or an unknown unit.
    """
    if is_family(linkage):
        raise LinkageError("a machine file holds one linkage, not a family")
    if unit not in SHIFT:
        raise LinkageError(f"unit is one of {', '.join(SHIFT)}, not {unit!r}")
    import tomlkit

    text = tomlkit.dumps(_document(linkage, unit, tomlkit))
    try:
        _path(path).write_text(text, encoding="utf-8")
    except OSError as error:
        raise MachineError(f"{path}: the file cannot be written ({error.strerror})") from None


def _path(path):
    if not isinstance(path, (str, Path)):
        raise MachineError(f"a machine file has a path, not {shown(path)}")
    if "\0" in str(path):
        raise MachineError("a path cannot hold a zero byte")
    return Path(path)


def _document(linkage, unit, tomlkit):
    pair = lambda z: [_exact(z.real, unit), _exact(z.imag, unit)]  # noqa: E731
    made = tomlkit.document()
    for key, value in (
        ("name", linkage.name),
        ("about", linkage.about),
        ("unit", unit),
        ("fixed", linkage.fixed),
    ):
        made[key] = value
    if linkage.output:
        made["output"] = linkage.output
    made["points"] = {p: pair(z) for p, z in linkage.points.items()}
    made["links"] = {link: list(carried) for link, carried in linkage.links.items()}
    if linkage.slides:
        made["slides"] = {s.name: _slide_table(s, pair) for s in linkage.slides}
    made["inputs"] = {i.name: _input_table(i, unit) for i in linkage.inputs}
    if linkage.masses:
        from .machine_masses import mass_table

        made["masses"] = {k: mass_table(m, lambda x: _exact(x, unit)) for k, m in linkage.masses.items()}
    return made


def _exact(x, unit):
    """The shortest decimal digits in that unit that read back as this number of metres."""
    import tomlkit

    digits = format(Decimal(repr(float(x))).scaleb(-SHIFT[unit]).normalize(), "f")
    return tomlkit.item(float(digits)) if "." not in digits else tomlkit.parse(f"x = {digits}")["x"]


def _slide_table(s, pair):
    direction = [float(s.direction.real), float(s.direction.imag)]
    return {"block": s.block, "on": s.on, "through": pair(s.through), "direction": direction}


def _input_table(i, unit):
    table = {("pin" if i.kind == "angle" else "slide"): i.at, "links": list(i.links)}
    if i.span is not None and i.kind == "angle":
        table["span_rad"] = [float(x) for x in i.span]
    elif i.span is not None:
        table["span"] = [_exact(x, unit) for x in i.span]
    return table
