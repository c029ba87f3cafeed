"""The marked notebook that nbgrader's own pages show: the master's cells, the student's answers, the verdicts as outputs."""

from __future__ import annotations

import html
import json

from ..coursework.verdict import Verdict
from . import attached
from .execution import Executed, own_step
from .rebuild import LONGEST, Master, Rebuilt
from .showable import words

SHOWN, OWN = 20, 20_000  # of the student's own cells behind one of ours; characters of each


def notebook(master: Master, rebuilt: Rebuilt, done: Executed, verdicts: dict[str, Verdict]) -> str:
    """The notebook as the text of a file."""
    cells = _own("", rebuilt, done)
    for cell, about in zip(master.notebook["cells"], master.cells, strict=True):
        made = dict(cell)
        if about.role in ("answer", "by-hand"):
            made["source"] = words(rebuilt.answers.get(about.name, ""), LONGEST)
        if about.role == "by-hand" and not about.code:
            made["attachments"] = rebuilt.pictures.get(about.name, {})
            made["source"] = attached.harmless(made["source"], made["attachments"])
        if about.code:
            made |= {"execution_count": None, "outputs": _outputs(about.name, done, verdicts)}
        cells += [made, *_own(about.name, rebuilt, done)]
    return json.dumps(master.notebook | {"cells": cells})  # indented it takes six times as long


def _own(behind: str, rebuilt: Rebuilt, done: Executed) -> list[dict]:
    """The cells that the student added behind one of ours; whoever looks at an answer needs to see them."""
    return [
        {"cell_type": "code", "id": f"own-{number}-{behind}"[:64], "metadata": {}, "source": words(text, OWN), "execution_count": None,
         "outputs": _outputs(own_step(behind, number), done, {})}
        for number, text in enumerate(rebuilt.own.get(behind, [])[:SHOWN])
    ]  # fmt: skip


def _outputs(name: str, done: Executed, verdicts: dict[str, Verdict]) -> list[dict]:
    """What stands below a cell: what it printed, what it stopped with, its verdict."""
    if name in verdicts:
        return [_verdict(verdicts[name])]
    outputs = []
    if done.printed.get(name):
        outputs.append({"output_type": "stream", "name": "stdout", "text": done.printed[name]})
    if done.errors.get(name):
        kind, _, words = done.errors[name].partition(": ")
        outputs.append({"output_type": "error", "ename": kind if words else "Stopped", "evalue": words or kind,
                        "traceback": [done.errors[name]]})  # fmt: skip
    return outputs


def _verdict(verdict: Verdict) -> dict:
    marks = "not marked" if verdict.marks is None else f"{verdict.marks:g} of {verdict.of:g}"
    says = f"<p><strong>{marks}.</strong> {html.escape(verdict.says)}</p>"
    return {
        "output_type": "display_data",
        "metadata": {},
        "data": {"text/html": says, "text/plain": f"{marks}. {verdict.says}"},
    }
