"""What holds a machine still against a force: the answer by power, the worked solution by free bodies."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from ...motion import move
from ..answers import Number
from ..question import Misconception, Question, Worked
from ..tolerance import calculated
from . import second_route
from .asked import along, one, other, question, values_of, variable
from .drawing import Drawn, here

AGAINST = {"x": "to the left", "y": "straight down"}
UNIT = {"x": "-1", "y": "-1j"}


def holding(setting: Drawn, id: str = "held_by", *, point: str, axis: str = "y", marks: float = 3, title: str = "", ask: str = "",
            without: Sequence[str] = ()) -> Question:  # fmt: skip
    """The size of the input's torque (or force) that holds a load at a point, without weight and friction."""
    drive, size = setting.drive, "torque" if setting.turning else "force"
    rate = lambda g, axis=axis: np.abs(along(setting.moved(g).velocity(point), axis))  # noqa: E731
    wrong = [
        Misconception("other-component", lambda g: g.load * rate(g, other(axis)),
                      f"The point's way along {other(axis)} was taken. The force acts along {axis}: only the way along it counts.",
                      1 / 3),
        Misconception("upside-down", lambda g: g.load / rate(g),
                      "The ratio is upside down: what the load gains, the input has to give. Its power is force times the "
                      "point's speed along it.", 1 / 3),
        Misconception("load-itself", lambda g: 1.0 * g.load,
                      "This is the load itself. The machine changes it in the ratio of the speeds."),
    ]  # fmt: skip
    unit = "N m" if setting.turning else "N"
    return question(
        setting, id, wrong, without, title=title or f"What holds {point}?", marks=marks, concept="10-holding",
        kind=Number(unit, calculated(unit, size=_typical(setting, point, axis))), answer=lambda g: g.load * rate(g),
        ask=ask or f"The machine stands still at your input, and the load pulls {point} {AGAINST[axis]}. How large is the {size} at "
        f"the input {drive} that holds it? Leave weight and friction out, and give the size without a sign.",
        by_hand=lambda g: _by_hand(setting, g, point, axis, unit),
        hint="In a small motion the input does as much work as the load takes.",
        model=f'held = lk.forces(lk.move(machine, {variable(setting)}.input), masses={{}}, '
        f'loads={{"{point}": {UNIT[axis]} * {variable(setting)}.load}})\n'
        f'{id} = (abs(held.input_torque), "{unit}")',
    )  # fmt: skip


def _typical(setting, point, axis) -> float:
    """A middling size of what is asked for, over the range of the machine as drawn."""
    from ...reach import reach

    loads = values_of(setting, "load_newton")
    motion = move(setting.linkage, reach(setting.linkage).values(60), speed=1.0)
    return float(loads[len(loads) // 2] * np.nanmedian(np.abs(along(motion.velocity(point), axis))))


def _by_hand(setting, g, point, axis, unit):
    """Power, as one would by hand; and free bodies, the equilibrium of every link at once, whose value is taken."""
    from ...forces import forces

    linkage = one(setting, g)
    load = -float(g.load) * (1 if axis == "x" else 1j)
    held = forces(move(linkage, float(here(g)), speed=0.0), masses={}, loads={point: load})
    value = abs(float(held.input_torque))
    rate = abs(along(second_route.coefficient(linkage, float(here(g)), point), axis))
    step = "radian" if setting.turning else "metre"
    steps = (
        f"In a small motion the input does as much work as the load takes. For each {step} of the input {point} moves by "
        f"{rate:.4g} m along {axis} (from two near positions), and only that way counts.",
        f"{g.load:.4g} N × {rate:.4g} m a {step} = {g.load * rate:.4g} {unit}.",
        f"Free bodies say the same: three equations for each of the {len(linkage.moving)} moving links, solved together, give "
        f"{value:.4g} {unit} at the input.",
    )
    return Worked(steps, value)
