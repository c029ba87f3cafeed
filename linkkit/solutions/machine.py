"""What a worked solution shows of one machine: taken apart, its chains in numbers, constructed, and moving."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from ..breakdown import breakdown
from ..chains import Chain
from ..coursework.givens import Givens, Setting
from . import closed_form, mathml

UNITS = {"angle": mathml.angle, "": lambda value: f"{mathml.figures(1000 * value)} mm"}
# numbers given that say where the input stands and how fast it moves, and the same in SI
PLACES = {"crank_angle_deg": "crank_angle", "input_deg": "input", "input_mm": "input"}
SPEEDS = {"speed_rpm": "speed", "way_mm": "way"}
PARTS = (("fixed link", "fixed"), ("input", "input"), ("coupler", "coupler"), ("output", "output"))


@dataclass(frozen=True)
class Picture:
    """An SVG with a heading, and the stages that it was drawn in, in words."""

    title: str
    svg: str
    stages: tuple[str, ...] = ()


@dataclass(frozen=True)
class Machine:
    """A student's machine at the position that the questions are about; `motion` is None where there is none."""

    linkage: object
    motion: object
    givens: Givens
    concepts: frozenset[str]

    @classmethod
    def of(cls, setting: Setting, givens: Givens, concepts) -> Machine | None:
        """The machine of a setting; None where it has none."""
        if setting.machine is None:
            return None
        from ..motion import move

        linkage, named = setting.machine(givens), {g.name for g in givens.about}
        place = next((getattr(givens, name) for given, name in PLACES.items() if given in named), None)
        speed = next((1.0 * getattr(givens, name) for given, name in SPEEDS.items() if given in named), 0.0)
        motion = None if place is None else move(linkage, place, speed=speed)
        return cls(linkage, motion, givens, frozenset(concepts))

    def pictures(self) -> list[Picture]:
        """Every picture that belongs to what is asked."""
        return [picture for make in MAKERS for picture in make(self)]

    def chains(self) -> list[dict]:
        """The chains of the breakdown in words, each with its closed form in numbers where that has been drawn."""
        return [self._chain(chain) for chain in breakdown(self.linkage)]

    def _chain(self, chain: Chain) -> dict:
        found = closed_form.placed(chain, self.motion) if self.motion is not None else None
        return {"words": chain_words(chain), "note": chain.note, "form": found and in_numbers(found, chain)}


def chain_words(chain: Chain) -> str:
    """A chain by its parts."""
    parts = ", ".join(f"{part} {getattr(chain, name)}" for part, name in PARTS if getattr(chain, name))
    return f"{chain.kind}{': ' if parts else ''}{parts}"


def in_numbers(found: closed_form.Placed, chain: Chain) -> dict:
    """A closed form with its numbers put in, step by step."""
    letters = mathml.letters(found.formula)
    numbers = {letters[name][0]: value for name, value in found.given.items()} | {"σ": found.sigma}
    rows = [
        (letters[name][0], letters[name][1], found.between[name], _sized(name, value))
        for name, value in found.given.items()
    ]
    lines, values = [], found.values
    for name, plain, formula, ready in mathml.working(found.formula):
        shown = _sized(plain, values[name]) if plain else mathml.figures(values[name])
        lines.append(mathml.DISPLAY.format(formula))
        lines.append(mathml.with_numbers(ready, numbers, shown))
        numbers[mathml.GREEK.get(name, name)] = values[name]
    return {
        "formula": found.formula,
        "rows": rows,
        "lines": lines,
        "circuit": _circuit(found),
        "check": _check(found, chain),
    }


def _sized(name: str, value: float) -> str:
    return UNITS["angle" if name.endswith("angle") else ""](value)


def _circuit(found) -> str:
    which = "open circuit, σ = +1" if found.sigma > 0 else "crossed circuit, σ = −1"
    return f"The sketch shows the {which}. The x axis of these letters points to {mathml.angle(found.frame)} in the machine."


def _check(found, chain: Chain) -> str:
    """The closed form beside the solver."""
    value = found.values[closed_form.letter(found.formula, found.output)]
    unit = "radians" if found.output.endswith("angle") else "m"
    off = f"differs by {found.off:.0e} {unit}, which is rounding" if found.off else "finds the very same number"
    said = f"The solver, which goes the way of the constraint equations, {off}."
    if found.output.endswith("angle"):
        return f"In the machine {chain.output} points to {_turned(value + found.frame)}. {said}"
    return f"The pin of {chain.output} is {mathml.figures(1000 * value)} mm along the slide. {said}"


def _turned(angle: float) -> str:
    return mathml.angle(float(np.angle(np.exp(1j * angle))))


def apart(machine: Machine) -> Iterator[Picture]:
    """The machine and the chains lifted out of it."""
    from ..draw import breakdown_picture

    what = (machine.linkage, None) if machine.motion is None else (machine.motion, 0)
    yield Picture("The machine taken apart", breakdown_picture(*what).svg())


def between(machine: Machine) -> Iterator[Picture]:
    """Where the questions are about limits: how far each link goes."""
    if not machine.concepts & {"02-limits", "03-stroke", "03-return"}:
        return
    from ..draw import line_diagram
    from ..motion import move

    cycle = move(machine.linkage)
    way = _way(cycle, machine.linkage.output or breakdown(machine.linkage)[-1].output)
    ends = int(np.nanargmax(way)), int(np.nanargmin(way))
    yield Picture(
        "At one limit, and thin at the other", line_diagram(cycle, ends[0], ranges=True, ghosts=ends[1:]).svg()
    )


def _way(cycle, output) -> np.ndarray:
    """How far the output has turned, or gone along the line to its farthest place."""
    turned = cycle.angle(output)
    if np.nanmax(turned) - np.nanmin(turned) > 1e-6:
        return turned
    spots = cycle.place(output, 0j) - cycle.place(output, 0j)[np.flatnonzero(cycle.ok)[0]]
    return (np.conj(spots[np.nanargmax(np.abs(spots))]) * spots).real


def _constructed(machine: Machine) -> Iterator[Picture]:
    """The position diagram by ruler and compasses."""
    if machine.motion is None:
        return
    from ..draw import construction

    yield _staged("The position, by ruler and compasses", construction(machine.motion, 0))


def polygons(machine: Machine) -> Iterator[Picture]:
    """Velocity and acceleration polygons where speeds are asked for."""
    lessons = {concept[:2] for concept in machine.concepts}
    if machine.motion is None or not np.any(machine.motion.speed) or not lessons & {"08", "09"}:
        return
    from ..draw import polygon_picture

    yield _staged("Velocity polygon", polygon_picture(machine.motion, 0))
    if "09" in lessons:
        yield _staged("Acceleration polygon", polygon_picture(machine.motion, 0, kind="acceleration"))


def centres(machine: Machine) -> Iterator[Picture]:
    """Instant centres where they are asked for."""
    if machine.motion is None or "08-centres" not in machine.concepts:
        return
    from ..draw import centres_picture

    yield _staged("Instant centres", centres_picture(machine.motion, 0))


def free_bodies(machine: Machine) -> Iterator[Picture]:
    """The moving links under load, each by itself: first without masses, then with the blade's."""
    if machine.motion is None or not {"load_newton", "blade_kg"} <= {g.name for g in machine.givens.about}:
        return
    from ..draw import free_body_picture
    from ..forces import forces

    load = {"slide": -1.0 * machine.givens.load}
    still = forces(machine.motion, loads=load)
    running = forces(machine.motion, loads=load, masses={"slider": float(machine.givens.blade_kg)})
    for title, found in (("so slow that masses do not matter", still), ("at speed", running)):
        for link in ("slider", "crank"):
            yield Picture(f"Free body of the {link}, {title}", free_body_picture(found, link, 0).svg())


def _staged(title: str, drawing) -> Picture:
    return Picture(title, drawing.picture().svg(), tuple(stage.words for stage in drawing.stages))


MAKERS = (apart, _constructed, between, polygons, centres, free_bodies)
