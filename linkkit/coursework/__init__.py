"""One question at a time: numbers drawn from an id, answers, tolerances, units, misconceptions, verdicts."""

from .paper import find_assignment, open_paper

__all__ = ["find_assignment", "open_paper"]
