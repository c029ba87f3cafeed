"""The lesson on a machine, and the lecturer's file of questions: templates filled in from the plan."""

from __future__ import annotations

import re
from importlib import resources

import numpy as np

from ..breakdown import breakdown
from ..coursework.own import story
from ..coursework.own.asked import PART, along
from ..coursework.own.lines import on_a_slide
from ..coursework.own.story import CAUTION, goes_in, held
from ..mobility import mobility
from ..motion import move
from ..reach import reach
from . import words
from .plan import Plan

PRACTISED = ("place", "velocity", "holding", "travel")  # in this order; each where it fits the machine
RADIANS = "Every angle inside the computer is in radians. Give degrees as they stand, and no error is reported."
METRES = "Every length inside the computer is in metres. Give millimetres as they stand, and no error is reported."
NOT_A_NUMBER = "Here `nan`, not a number, says so; another machine would say nothing."
CELL = re.compile(r"^%% (markdown|code) ([a-z0-9-]+)\n", re.MULTILINE)


def render(template: str, **told) -> str:
    """One of the templates beside this module, filled in."""
    from jinja2 import Environment, StrictUndefined

    text = resources.files(__package__).joinpath(template).read_text(encoding="utf-8")
    return Environment(undefined=StrictUndefined, keep_trailing_newline=True).from_string(text).render(**told)


def lesson(plan: Plan):
    """The notebook of the lesson, as an nbformat node."""
    import nbformat.v4 as v4

    _, *parts = CELL.split(render("lesson.txt.j2", **_told(plan)))
    make = {"markdown": v4.new_markdown_cell, "code": v4.new_code_cell}
    cells = [make[kind](text.strip("\n"), id=name) for kind, name, text in zip(*[iter(parts)] * 3, strict=True)]
    kernel = {"display_name": "Python 3 (ipykernel)", "language": "python", "name": "python3"}
    return v4.new_notebook(cells=cells, metadata={"kernelspec": kernel, "language_info": {"name": "python"}})


def questions(plan: Plan) -> str:
    """The text of the file of questions."""
    title = plan.linkage.name or plan.slug.replace("-", " ").capitalize()
    whose = "points" if plan.numbers["points"] else "numbers"
    return render(
        "questions.py.j2", title=title, name=words.named(plan), slug=plan.slug, mark=plan.mark, others=_others(plan),
        opening=f"The {words.named(plan)} with {whose} of your own: take it apart, say what it is, place it, and say how fast and "
        "how hard it moves.",
        story='"""' + story(plan.linkage, plan.numbers["points"]).replace("\\", "\\\\").replace('"', '\\"') + '"""',
        points=plan.numbers["points"], throughout=plan.numbers["throughout"],
        least=plan.numbers["least_deg"], asked=[one.code() for one in plan.asked],
    )  # fmt: skip


def _values(values) -> str:
    """A row of numbers as one would write it."""
    values = list(values)
    steps = set(np.diff(values))
    if len(steps) == 1:
        return repr(range(values[0], values[-1] + 1, int(steps.pop())))
    if values == [a for a in range(20, 345, 5) if a % 90]:
        return "[a for a in range(20, 345, 5) if a % 90]"
    return repr(values)


def _told(plan: Plan) -> dict:
    """What the template of the lesson wants to know."""
    linkage, known = plan.linkage, plan.known
    title = linkage.name or plan.slug.replace("-", " ").capitalize()
    return {
        "title": title, "name_plain": title.replace('"', "'"), "slug": plan.slug, "key": plan.slug, "about": linkage.about,
        "goes_in": f"{goes_in(linkage)} {held(linkage)}".strip(), "comes_out": words.comes_out(plan), "caution": CAUTION,
        "fixed": linkage.fixed, "output": known.output, "mobility": mobility(linkage), "chains": breakdown(linkage),
        "point": plan.point, "axis": plan.axis, "part": PART[plan.axis], "turning": plan.turning, "mark": plan.mark,
        "mark_code": '.with_point("{}", "{}", {})'.format(*plan.mark) if plan.mark else "",
        "input_word": f"angle of the {linkage.inputs[0].name}" if plan.turning else f"length of the {linkage.inputs[0].name}",
        "input_unit": "degrees" if plan.turning else "mm", "range_words": words.range_words(plan), "fastest": words.fastest(plan),
        "lengths": _lengths(linkage), "practice": _practice(plan), "points": plan.numbers["points"], "others": _others(plan),
        "throughout": plan.numbers["throughout"], "least": plan.numbers["least_deg"], "stops": _stops(plan),
        **_class_words(plan), **_limit_words(plan), **_failing(plan),
    }  # fmt: skip


def _class_words(plan: Plan) -> dict:
    """The first four-bar chain and its class, where there is one that is not too near to call."""
    from ..facts import grashof

    told = {"klass": "", "pins": "", "first": ()}
    if any(one.make == "first_class" for one in plan.asked):
        chain = next(c for c in breakdown(plan.linkage) if c.kind == "four-bar")
        o, a, b, q = chain.pairs
        sides = [plan.linkage.length(*ends) for ends in ((o, q), (o, a), (a, b), (b, q))]
        first = (chain.fixed, chain.input, chain.coupler, chain.output)
        told = {"klass": grashof(*sides)[0], "pins": repr([o, a, b, q]).replace("'", '"'), "first": first}
    return told


def _limit_words(plan: Plan) -> dict:
    """Swing or stroke, unless the output goes right round."""
    swing, stroke = plan.known.swing, plan.known.stroke
    if swing is not None and swing > 2 * np.pi - 1e-6:
        why = f"Why does the {plan.known.output} turn now faster, now slower?"
        return {"question": f"How evenly does the {plan.known.output} turn?", "limits": "", "swing": True, "why": why}
    turning = stroke is None
    found = np.degrees(swing) if turning else 1000 * stroke
    output, back = plan.known.output, len(plan.known.limits) > 0
    ends = (
        f"The {output} turns back at its **limit positions**."
        if back
        else f"The {output} ends its way where the input does."
    )
    code = "np.degrees(lk.facts(machine).swing)" if turning else "1000 * lk.facts(machine).stroke"
    return {
        "question": f"How far does the {output} {'swing' if turning else 'travel'}{', and where does it turn back' if back else ''}?",
        "why": f"Why does the {output} turn back where it does?" if back else f"Why does the {output} not move evenly?",
        "ends_words": ends,
        "limits": f"{found:.4g}", "swing": turning, "limits_unit": "degrees" if turning else "mm",
        "limits_code": f"found = {code}", "limits_words": f"{found:{'.3g' if found < 1000 else '.0f'}} {'degrees' if turning else 'mm'}",
    }  # fmt: skip


def _failing(plan: Plan) -> dict:
    """An input given in the wrong unit, and what that means."""
    values = list(plan.numbers["input_deg" if plan.turning else "input_mm"])
    value = values[2 * len(values) // 3]
    silent = np.isfinite(move(plan.linkage, float(value)).point(plan.point))
    warned = (
        "Nothing warned you."
        if silent
        else "No position closes there, and `nan`, not a number, says so; another machine says nothing."
    )
    if plan.turning:
        return {
            "fail_right": f"np.radians({value})", "fail_wrong": value, "fail_rule": RADIANS,
            "fail_words": f"{value} radians are {value / (2 * np.pi):.1f} turns. {warned}",
        }  # fmt: skip
    return {
        "fail_right": f"{value / 1000:g}", "fail_wrong": value, "fail_rule": METRES,
        "fail_words": f"{value} metres are no length of this machine. {warned}",
    }  # fmt: skip


def _lengths(linkage) -> str:
    """Two lengths to change: between pins of moving links, free of slides."""
    pairs = [
        (carried[0], carried[1])
        for link, carried in linkage.links.items()
        if link != linkage.fixed and len(carried) > 1 and not all(on_a_slide(linkage, p) for p in carried[:2])
    ]
    pairs = pairs or [c[:2] for k, c in linkage.links.items() if k != linkage.fixed and len(c) > 1]
    return repr([tuple(p) for p in pairs[:2]]).replace("'", '"')


def _stops(plan: Plan) -> bool:
    """Does the followed point turn back along its axis somewhere?"""
    speeds = along(move(plan.linkage, reach(plan.linkage).values(181), speed=1.0).velocity(plan.point), plan.axis)
    return bool(np.nanmin(speeds) < 0 < np.nanmax(speeds))


def _others(plan: Plan) -> dict[str, str]:
    """The numbers that are no points, as code."""
    return {name: _values(v) for name, v in plan.numbers.items() if name not in ("points", "throughout", "least_deg")}


def _practice(plan: Plan) -> list[tuple[str, str]]:
    """The questions to practise, on this very machine: a name each, and the code that makes it."""
    found = {one.make: one.code() for one in plan.asked}
    return [(make, found[make]) for make in PRACTISED if make in found]
