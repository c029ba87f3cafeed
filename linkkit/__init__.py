"""Planar linkages: described once, taken apart into four-link chains, moved, and set as exercises."""

from importlib import import_module

from .breakdown import breakdown
from .builders import four_bar, slider_crank
from .chains import Chain
from .errors import LinkageError, MachineError
from .facts import Facts, facts
from .forces import forces
from .kinds import link_motions, motion_kinds
from .linkage import Input, Linkage, Pair, Slide
from .mobility import freedom, mobility
from .motion import Motion, move
from .reach import reach

_LATER = {
    "read": "machine_file", "write": "machine_file", "machine": "machine_file", "machines": "machine_file",
    "survey": "family",
    "Forces": "equilibrium", "Force": "loads", "SlideForce": "loads", "Torque": "loads", "Spring": "loads", "TurnSpring": "loads",
    "load_table": "loads", "Mass": "masses", "uniform_bar": "masses", "uniform_plate": "masses",
    "Friction": "friction", "sliding": "relative", "turning": "relative", "instant_centres": "centres",
    "velocity_polygon": "polygons", "acceleration_polygon": "polygons", "mechanical_advantage": "advantage",
    "run_up": "running_up", "counterweights": "balance", "part_balance": "balance", "inline_engine": "balance",
    "energy_fluctuation": "flywheel", "fluctuation_of_areas": "flywheel", "flywheel_for": "flywheel",
    "speed_fluctuation": "flywheel", "jerk": "third_order", "angular_jerk": "third_order",
}  # fmt: skip
_MODULES = ("algebra", "draw", "workbook", "coursework", "design")

__all__ = [
    "Chain", "Input", "Linkage", "LinkageError", "MachineError", "Motion", "Pair", "Slide",
    "Facts", "breakdown", "facts", "forces", "four_bar", "freedom", "link_motions", "mobility",
    "motion_kinds", "move", "reach", "slider_crank", *_LATER, *_MODULES,
]  # fmt: skip


def __getattr__(name):
    """Load what is not needed for every import when it is first used."""
    if name in _MODULES:
        return import_module(f".{name}", __name__)
    if name in _LATER:
        value = getattr(import_module(f".{_LATER[name]}", __name__), name)
        globals()[name] = value
        return value
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
