"""`linkkit describe`: everything one would ask about a machine, as tables."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import click
import numpy as np
from rich.box import SIMPLE
from rich.console import Console
from rich.table import Table

from .breakdown import breakdown
from .describe_remarks import remarks
from .errors import LinkageError, MachineError
from .facts import facts
from .kinds import link_motions
from .machine_file import machine, machines, read
from .masses import masses_of
from .mobility import freedom, mobility
from .placing import ends


def find(name):
    """The linkage of a machine's name or of a machine file.

    Raises
    ------
    MachineError
        If it is neither, saying what there is.
    """
    if name in machines():
        return machine(name)
    path = Path(name)
    if path.exists() or path.suffix == ".toml" or "/" in name:
        return read(path)
    meant = f"; there is a file {name}.toml, did you mean that?" if Path(f"{name}.toml").is_file() else ""
    raise MachineError(f"{name!r} is neither a machine file nor one of the machines: {', '.join(machines())}{meant}")


def tables(linkage) -> list[Table]:
    """The tables that describe a linkage, in the order in which one would ask: rich tables."""
    motions, known = link_motions(linkage), facts(linkage)
    noted = remarks(linkage, known)
    return [_links(linkage, motions), _pairs(linkage), _freedom(linkage), _inputs(linkage, motions, known.output),
            _chains(linkage), _facts(linkage, known)] + ([_remarks(noted)] if noted else [])  # fmt: skip


def _table(title, *columns, rows=()):
    headed = any(columns)
    table = Table(title=title, title_justify="left", title_style="bold", show_header=headed, pad_edge=False, box=SIMPLE)
    for column in columns:
        table.add_column(column, overflow="fold")
    for row in rows:
        table.add_row(*map(str, row))
    return table


def _links(linkage, motions):
    rows = [(link, " ".join(carried) or "-", motions[link]) for link, carried in linkage.links.items()]
    return _table("Links", "link", "points", "motion", rows=rows)


def _pairs(linkage):
    rows = [(p.at, p.kind, f"{p.links[0]} and {p.links[1]}") for p in linkage.pairs]
    return _table("Pairs", "at", "pair", "between", rows=rows)


def _freedom(linkage):
    links, pairs, free = len(linkage.links), len(linkage.pairs), freedom(linkage)
    rows = [
        ("by counting", f"3 ({links} - 1) - 2 x {pairs} = {mobility(linkage)}"),
        ("true freedom", free.true),
        ("which means", free.note),
    ]
    return _table("Mobility", "", "", rows=rows)


def _inputs(linkage, motions, output):
    rows = [(f"input {i.name}", *_input_row(linkage, i, motions)) for i in linkage.inputs]
    return _table("What goes in, what comes out", "", "where", "motion",
                  rows=[*rows, ("output", output, motions[output])])  # fmt: skip


def _input_row(linkage, i, motions):
    reference, driven = ends(linkage, i)
    if i.kind == "angle":
        turned = "rotation, continuous" if i.span is None else f"rotation, oscillating through {_deg(np.ptp(i.span))}"
        if i.span is None and not motions[driven].continuous:
            turned = f"rotation, oscillating through {_deg(motions[driven].extent)}"
        return f"{driven} at {i.at}", turned
    far = "" if i.span is None else f", oscillating over {_mm(np.ptp(i.span))}"
    return f"{driven} along {i.at} of {reference}", f"translation{far}"


def _chains(linkage):
    rows = [
        (n, c.kind, c.fixed or "-", c.input or "-", c.coupler or "-", c.output or "-", c.note if not c.fixed else "")
        for n, c in enumerate(breakdown(linkage), 1)
    ]
    return _table("Four-link chains, in order", "", "kind", "fixed", "input", "coupler", "output", "", rows=rows)


def _facts(linkage, known):
    angular = linkage.inputs[0].kind == "angle"
    show = _deg if angular else _mm
    rows = [("Grashof class", " - ".join(filter(None, (known.grashof_class, known.change_point_case))))]
    rows += [("output turns back at", ", ".join(map(show, known.limits)))]
    rows += [("input range", ", ".join(f"{show(a)} to {show(b)}" for a, b in known.ranges) or "all the way round")]
    rows += [("dead centres of the input", ", ".join(map(show, known.dead_centres)))]
    rows += [("change points", ", ".join(map(show, known.change_points)))]
    rows += [("swing of the output", _deg(known.swing)), ("stroke of the output", _mm(known.stroke))]
    rows += [("time ratio", "" if known.time_ratio is None else f"{known.time_ratio:.3f}")]
    rows += [("transmission angle", " to ".join(map(_deg, known.transmission_angle)))]
    return _table("Facts", "", "", rows=[(a, b) for a, b in rows if b])


def _remarks(noted):
    return _table("Is this meant?", "", "", rows=enumerate(noted, 1))


def _loaded(linkage, masses, bars):
    """The linkage with the masses of the command line, and a table that says what was taken for them.

    Parameters
    ----------
    masses : sequence of str
        LINK=KILOGRAMS each.
    bars : float or None
        Kilograms for each metre of every other moving link, taken as a bar from its first to its second point.
    """
    kept, given = dict(linkage.masses), dict(_mass(linkage, text) for text in masses)
    for link in linkage.moving if bars else ():
        carried = linkage.links[link]
        if link not in given and link not in kept and len(carried) > 1:
            given[link] = bars * linkage.length(*carried[:2])
    if not given and not kept:
        return (
            linkage,
            "Forces need masses: give --mass LINK=KILOGRAMS, or --bars KILOGRAMS-A-METRE, or [masses] in the file.",
        )
    loaded = replace(linkage, masses=kept | masses_of(linkage, given))
    rows = [(k, f"{m.mass:.4g} kg", _shape(linkage, k, k in kept and k not in given)) for k, m in loaded.masses.items()]
    rows += [(k, "0 kg", "none was given") for k in linkage.moving if k not in loaded.masses]
    return loaded, _table(
        "Masses (the forces are those of inertia, without weight and load)", "link", "mass", "taken as", rows=rows
    )


def _mass(linkage, text):
    """A link and its kilograms from LINK=KILOGRAMS."""
    link, _, amount = (part.strip() for part in text.rpartition("="))
    try:
        kilograms = float(amount.removesuffix("kg"))
    except ValueError:
        kilograms = -1.0
    if link not in linkage.links:
        raise LinkageError(f"--mass {text}: there is no link {link!r}; there are {', '.join(linkage.links)}")
    if not 0 <= kilograms < np.inf:
        raise LinkageError(
            f"--mass {text}: {amount!r} is no mass; kilograms are meant, as in --mass {linkage.moving[0]}=2.5"
        )
    return link, kilograms


def _shape(linkage, link, from_file):
    if from_file:
        return "as the file says"
    carried = linkage.links[link]
    return f"a uniform bar from {carried[0]} to {carried[1]}" if len(carried) > 1 else "a lump at its point"


def _peaks(linkage, text):
    """The table of peak values at a speed, and the cautions that belong to it."""
    from .peaks import CAUTION, peaks

    show = _deg if linkage.inputs[0].kind == "angle" else _mm
    value = lambda p: "no bound" if np.isinf(p.value) else f"{p.value:.4g} {p.unit}"  # noqa: E731
    rows = [
        (p.what, p.where, value(p), "throughout" if np.isnan(p.at) else show(p.at))
        for p in peaks(linkage, _speed(linkage.inputs[0], text))
    ]
    title = f"Peak values at {linkage.inputs[0].name} {text}"
    return [_table(title, "what", "where", "value", "at the input", rows=rows), CAUTION]


def _speed(i, text):
    """A speed such as 2000rpm in rad/s or m/s."""
    from .coursework.units import si

    found = re.fullmatch(r"\s*([-+]?[0-9.]+(?:[eE][-+]?[0-9]+)?)\s*(\S.*)", text)
    worth = si(found[2]) if found else None
    if worth is None or worth[1] != {"angle": "radian / second", "distance": "meter / second"}[i.kind]:
        example = "2000rpm or 3rad/s" if i.kind == "angle" else "0.2m/s"
        raise LinkageError(f"the speed of {i.name} is a number with its unit, such as {example}, not {text!r}")
    return float(found[1]) * worth[0]


def _deg(radians):
    return "" if radians is None else f"{np.degrees(radians):.2f} deg"


def _mm(metres):
    return "" if metres is None else f"{1000 * metres:.1f} mm"


@click.command("describe")
@click.argument("machine_name", metavar="NAME-OR-FILE")
@click.option("--speed", help="Add the peak rates and forces at this speed of the input, such as 2000rpm or 3rad/s.")
@click.option("--mass", "masses", multiple=True, metavar="LINK=KG",
              help="With --speed: the mass of a link, a uniform bar or a lump; may be given several times.")  # fmt: skip
@click.option("--bars", type=click.FloatRange(min=0, min_open=True), metavar="KG-A-METRE",
              help="With --speed: every other moving link is a uniform bar of so many kilograms a metre.")  # fmt: skip
@click.option("--picture", type=click.Path(dir_okay=False, path_type=Path), help="Draw it here: .svg, .png or .pdf.")
def command(machine_name, speed, masses, bars, picture):
    """Explain a machine: its links, pairs, freedom, four-link chains, motions and facts.

    NAME-OR-FILE is a machine file, or one of the machines that come with linkkit.
    """
    if picture:
        _check_picture(picture)
    if (masses or bars) and speed is None:
        raise click.UsageError("masses make forces only at a speed: add --speed, as in --speed 60rpm")
    linkage = find(machine_name)
    try:
        shown = tables(linkage) + ([] if speed is None else _at_speed(linkage, speed, masses, bars))
    except LinkageError as error:
        raise LinkageError(str(error) if str(error).startswith("--") else f"{machine_name}: {error}") from None
    console = Console(highlight=False, markup=False)
    console.print(linkage.name or machine_name, style="bold")
    if linkage.about:
        console.print(linkage.about)
    for table in shown:
        console.print()
        console.print(table)
    if picture:
        _draw(linkage, picture)
        console.print(f"\nThe picture is in {picture}", soft_wrap=True)


def _at_speed(linkage, speed, masses, bars):
    loaded, said = _loaded(linkage, masses, bars)
    table, caution = _peaks(loaded, speed)
    return [table, said, caution]


def _check_picture(picture):
    """Refuse a picture that can't be written before anything is worked out."""
    if picture.suffix.lower() not in (".svg", ".png", ".pdf"):
        raise LinkageError(f"a picture ends in .svg, .png or .pdf, not {picture.suffix or 'nothing'!r}")
    if not picture.parent.is_dir():
        raise LinkageError(f"there is no folder {picture.parent} to put the picture in")


def _draw(linkage, picture):
    from .draw import line_diagram

    line_diagram(linkage).save(picture)
