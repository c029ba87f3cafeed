"""A lecturer's own assignment: a Python file of questions beside its notebook, found by the assignment's name.

The file is looked for in the course that is being marked or rehearsed (see `look_in`), then where the notebook runs.
It is the lecturer's own code and is trusted; what a student hands in is never loaded from here.
"""

from __future__ import annotations

import os
import re
import traceback
import types
from functools import lru_cache
from pathlib import Path

from ...errors import LinkageError
from ..givens import Setting
from ..question import Assignment, Question

COURSE = "LINKKIT_COURSE"  # the nbgrader course at work; processes that this one starts know it too
NAME = re.compile(r"[a-z0-9][a-z0-9_-]{0,63}")


class OwnAssignmentError(LinkageError):
    """The file of an assignment can't be used; the message says which line of it, and what to do."""


def look_in(course: Path) -> None:
    """Look for assignments in this nbgrader course from now on, before anywhere else."""
    os.environ[COURSE] = str(Path(course).resolve())


def find(name: str) -> Assignment | None:
    """The lecturer's own assignment of that name, or None if there is no file of it.

    Examples
    --------
    >>> find("no-such-assignment") is None
    True
    """
    if not NAME.fullmatch(name):
        return None
    place = next((p for p in _places(name) if p.is_file()), None)
    return None if place is None else load(place)


def own_names() -> list[str]:
    """The names of all the lecturer's own assignments in sight."""
    files = (file for course in (*_at_work(), *_around()) for file in sorted(course.glob("source/*/*.py")))
    names = (file.stem for file in files if file.stem == file.parent.name)
    return list(dict.fromkeys(filter(NAME.fullmatch, names)))


def _places(name: str):
    file = Path(f"{name}.py")
    yield from (course / "source" / name / file for course in _at_work())
    yield Path.cwd() / file
    yield from (course / "source" / name / file for course in _around())


def _at_work():
    return [Path(os.environ[COURSE])] if os.environ.get(COURSE) else []


def _around():
    """The folder that we are in and those that it lies in."""
    here = Path.cwd()
    return [here, *list(here.parents)[:3]]


def load(place: Path) -> Assignment:
    """The assignment in a file, read again whenever the file has changed.

    Raises
    ------
    OwnAssignmentError
        With the line of the file.
    """
    return _load(place, place.stat().st_mtime_ns)


@lru_cache(maxsize=32)
def _load(place: Path, _changed: int) -> Assignment:
    module = types.ModuleType(f"assignment_{place.stem}")
    module.__file__ = str(place)
    try:
        exec(compile(place.read_text(encoding="utf-8"), str(place), "exec"), module.__dict__)
    except Exception as error:
        raise OwnAssignmentError(f"{place.name}{_line(error, place)}: {_words(error)}") from error
    settings, questions = tuple(_listed(module, place, "SETTINGS")), tuple(_listed(module, place, "QUESTIONS"))
    _check(place, settings, questions)
    title = getattr(module, "TITLE", place.stem.replace("-", " ").capitalize())
    return Assignment(place.stem, title, getattr(module, "OPENING", ""), settings, questions)


def _line(error, place: Path) -> str:
    """The line of the file at which it stopped."""
    if isinstance(error, SyntaxError):
        return f", line {error.lineno}"
    lines = [frame.lineno for frame in traceback.extract_tb(error.__traceback__) if frame.filename == str(place)]
    return f", line {lines[-1]}" if lines else ""


def _words(error) -> str:
    if isinstance(error, SyntaxError):
        return f"Python cannot read this: {error.msg}"
    return str(error) if isinstance(error, LinkageError) else f"{type(error).__name__}: {error}"


def _listed(module, place: Path, name: str):
    found = getattr(module, name, None)
    if not isinstance(found, tuple | list) or not found:
        raise OwnAssignmentError(f"{place.name}: it must say {name} = (...,), with at least one in it")
    return found


def _check(place: Path, settings, questions) -> None:
    """Each is what it should be, ids are names and stand once, and every question has its setting."""
    for kind, found in ((Setting, settings), (Question, questions)):
        odd = next((x for x in found if not isinstance(x, kind)), None)
        if odd is not None:
            raise OwnAssignmentError(f"{place.name}: {odd!r:.80} stands among the {kind.__name__.lower()}s and is none")
        ids = [x.id for x in found]
        twice = next((i for i in ids if ids.count(i) > 1), None)
        if twice:
            raise OwnAssignmentError(f"{place.name}: two {kind.__name__.lower()}s have the id {twice!r}; rename one")
    there = [s.id for s in settings]
    for q in questions:
        if not q.id.isidentifier():
            raise OwnAssignmentError(f"{place.name}: the id {q.id!r} cannot name a variable; use letters, digits and _")
        if q.setting not in there:
            raise OwnAssignmentError(f"{place.name}: question {q.id} uses the setting {q.setting!r}; there are {there}")
        needed = set(q.needs) - {other.id for other in questions}
        if needed:
            raise OwnAssignmentError(f"{place.name}: question {q.id} needs {', '.join(needed)}, which is not asked")
