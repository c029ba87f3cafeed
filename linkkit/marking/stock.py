"""nbgrader's own commands run on a scratch course, as a lecturer would run them."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from collections.abc import Callable, Iterable
from pathlib import Path

from ..coursework.key import make_key
from .scripts import Script


class CourseError(RuntimeError):
    """An nbgrader command failed, or the course is not there."""


def scratch_course(course: Path, assignment: str, scratch: Path) -> None:
    """Copy the configuration and the source of one assignment into an empty course, with a key of its own."""
    source = course / "source" / assignment
    if not source.is_dir():
        raise CourseError(f"there is no {source}; name the nbgrader course with --course")
    shutil.copytree(source, scratch / "source" / assignment)
    shutil.copy(course / "nbgrader_config.py", scratch)
    make_key(scratch)


def nbgrader(scratch: Path, *words: str, seen: Callable[[str], None] = lambda line: None) -> None:
    """Run one nbgrader command in the course; `seen` is called with each line of its log.

    Raises
    ------
    CourseError
        With the end of the log, when the command fails.
    """
    path = os.pathsep.join([str(Path(sys.executable).parent), os.environ.get("PATH", "")])
    command = [sys.executable, "-m", "nbgrader", *words]
    log: list[str] = []
    with subprocess.Popen(
        command,
        cwd=scratch,
        env=os.environ | {"PATH": path},
        text=True,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
    ) as run:
        for line in run.stdout:
            log.append(line)
            seen(line)
    if run.returncode:
        raise CourseError(f"nbgrader {words[0]} failed:\n{''.join(log[-15:])}")


def hand_in(scratch: Path, assignment: str, scripts: Iterable[Script]) -> None:
    """Write the scripts as handed in: the released notebook with the students' cells in it."""
    name = f"{assignment}.ipynb"
    released = (scratch / "release" / assignment / name).read_text(encoding="utf-8")
    for script in scripts:
        place = scratch / "submitted" / script.student / assignment / name
        place.parent.mkdir(parents=True)
        place.write_text(json.dumps(filled(json.loads(released), script), indent=1), encoding="utf-8")


def filled(notebook: dict, script: Script) -> dict:
    """The notebook with a student's cells in place of the stubs, less those that they deleted."""
    kept = []
    for cell in notebook["cells"]:
        name = cell["metadata"]["nbgrader"]["grade_id"]
        if name in script.cells:
            cell["source"] = script.cells[name]
        if name not in script.deleted:
            kept.append(cell)
    return notebook | {"cells": kept}


def marks(scratch: Path, assignment: str) -> dict[str, float]:
    """The marks in the course's gradebook, by student."""
    from nbgrader.api import Gradebook

    with Gradebook(f"sqlite:///{scratch / 'gradebook.db'}") as gradebook:
        return {s.student.id: s.score for s in gradebook.assignment_submissions(assignment)}
