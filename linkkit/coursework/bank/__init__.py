"""The question bank: machines with numbers of the student's own, and what can be asked about each.

A module of the bank that has `QUESTIONS` and `SETTINGS` (or one `SETTING`) is found by itself.
"""

from __future__ import annotations

from functools import cache
from importlib import import_module
from pkgutil import iter_modules


@cache
def modules() -> tuple:
    """The modules of the bank, by name."""
    return tuple(import_module(f".{found.name}", __name__) for found in iter_modules(__path__))


@cache
def questions() -> dict:
    """Every question by its id.

    Raises
    ------
    ValueError
        If two have the same id.
    """
    found = [question for module in modules() for question in getattr(module, "QUESTIONS", ())]
    by_id = {question.id: question for question in found}
    if len(by_id) < len(found):
        raise ValueError(f"two questions of the bank have the same id, among {[question.id for question in found]}")
    return by_id


@cache
def settings() -> dict:
    """Every setting by its id."""
    own = [getattr(module, "SETTING", None) for module in modules()]
    found = [s for module in modules() for s in getattr(module, "SETTINGS", ())] + [s for s in own if s]
    return {setting.id: setting for setting in found}
