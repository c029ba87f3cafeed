"""The assignments of the course: one for each lesson and a mixed paper, each a choice from the question bank."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from . import bank
from .question import Assignment


@dataclass(frozen=True)
class Outline:
    """An assignment: its title, the words it opens with, the ids of its questions in the order of their machines."""

    title: str
    opening: str
    questions: tuple[str, ...]


OUTLINES = {
    "what-goes-in": Outline(
        "What goes in, what comes out",
        "Look at machines: their links and pairs, what counting says of their mobility, how their links move.",
        (
            "link_count", "pair_count", "three_jointed", "mobility_count", "combined_count", "output_motion",
            "link_motion", "mobility_of_counts", "pairs_wanted", "needless_constraints",
        ),
    ),
    "four-links": Outline(
        "Four links in a loop",
        "Four machines from Marrow Quay, each a loop of four links, with dimensions of your own. Draw, calculate and, "
        "at one point, program. Each question says how near your answer has to be.",
        (
            "link_kinds", "lamp_class", "hatch_class", "rocker_angle", "transmission_here", "far_limit", "swing",
            "time_ratio", "least_transmission", "rocker_at", "slider_at", "stroke",
        ),
    ),
    "crank-and-slider": Outline(
        "Crank and slider",
        "The ice chopper with its guide set aside, and the slotted lever of the shaper: positions, ends of the stroke, and "
        "why the way back is quicker.",
        ("slider_at", "rod_angle", "twelve_positions", "stroke", "inner_dead_centre", "lever_swing", "lever_ratio"),
    ),
    "another-link-fixed": Outline(
        "Another link fixed",
        "The same links, another one bolted down: classes, motions, and the machines that come of it.",
        (
            "inversion_class", "all_classes", "turning_pins", "which_machine", "link_kinds", "cylinder_direction",
            "cylinder_length",
        ),
    ),
    "chains-in-series": Outline(
        "Chains in series",
        "Machines of six links taken apart into four-link chains, and solved one chain after the other.",
        (
            "chains_of_six", "second_input", "quay_chains", "why_in_series", "beam_turned", "plunger_below",
            "lever_direction", "ram_at",
        ),
    ),
    "position-by-algebra": Outline(
        "Position by algebra",
        "Loop equations as formulas, the two ways in which a loop closes, a step of Newton's method, and a function in your "
        "own code.",
        (
            "joint_part", "diagonal_formula", "ways_to_close", "newton_step", "newton_side", "other_circuit", "slider_x",
        ),
    ),
    "paths-of-points": Outline(
        "Paths of points",
        "Where a point of the coupler goes, which other linkage draws the same path, and how to draw a straight line.",
        (
            "eye_across", "eye_height", "eye_table", "cognate_ground", "cognate_coupler", "cognate_rocker", "watt_point",
            "cell_reach",
        ),
    ),
    "velocity": Outline(
        "Velocity",
        "The net shaker and the ice chopper while they run: velocities, instant centres, dead points.",
        (
            "pin_speed", "rocker_speed", "coupler_speed", "joint_speed", "torque_ratio", "common_centre",
            "coupler_at_limit", "centre_count", "slider_speed", "rod_centre", "rod_at_dead_centre",
        ),
    ),
    "acceleration": Outline(
        "Acceleration",
        "What changes, and how quickly: the running ice chopper and net shaker, and the slotted lever with its Coriolis "
        "part.",
        (
            "pin_acceleration", "slider_acceleration", "rod_acceleration", "lever_speed", "block_speed", "coriolis",
            "coriolis_side", "lever_acceleration",
        ),
    ),
    "forces": Outline(
        "Forces at running speed",
        "The ice chopper under load, slow and fast, its counterweight, and the flywheel of the fish press.",
        (
            "rod_force", "side_push", "holding_torque", "blade_force", "running_torque", "speed_effect", "counterweight",
            "flywheel_inertia", "energy_left", "why_a_flywheel",
        ),
    ),
    "mixed-paper": Outline(
        "A mixed paper",
        "From all lessons. Parts that build on each other stand together; if an early one goes wrong, the later ones are "
        "marked from your own answer where that can be done.",
        (
            "mobility_of_counts", "rocker_angle", "transmission_here", "swing", "shaker_diagram", "all_classes",
            "chains_of_six", "diagonal_formula", "lever_direction", "ram_at", "twelve_positions", "slider_x",
            "rocker_speed", "joint_speed", "coriolis_side", "lever_acceleration", "holding_torque", "why_a_flywheel",
        ),
    ),
    "choosing-dimensions": Outline(
        "Choosing the dimensions",
        "Every question has a brief of your own, and many right answers. Your linkage is moved and held against the brief. "
        "Design it by construction, by calculation or with the package, and look at its motion before you hand it in: in a cell "
        "of your own, `from linkkit.draw import animation` and then `animation(lk.four_bar(0.40, 0.10, 0.35, 0.25))` show a "
        "four-bar of 400 mm of ground, a crank of 100 mm, a coupler of 350 mm and a rocker of 250 mm.",
        (
            "new_shaker", "new_saw", "new_gauge", "two_poses", "three_poses", "straight_line", "level_tray",
        ),
    ),
}  # fmt: skip


@cache
def assignment(name: str) -> Assignment:
    """An assignment by its name; its settings in the order in which its questions come to them.

    Examples
    --------
    >>> [setting.title for setting in assignment("four-links").settings][-1]
    'The ice chopper'
    """
    outline, questions = OUTLINES[name], bank.questions()
    asked = tuple(questions[q] for q in outline.questions)
    settings = dict.fromkeys(question.setting for question in asked)
    return Assignment(
        id=name,
        title=outline.title,
        opening=outline.opening,
        settings=tuple(bank.settings()[s] for s in settings),
        questions=asked,
    )
