"""One question at a time: numbers drawn from an id, answers, tolerances, units, misconceptions, verdicts."""

from .. import facts as _  # noqa: F401 (before any module below asks for the module of that name)
from .paper import find_assignment, open_paper

__all__ = ["find_assignment", "open_paper"]
