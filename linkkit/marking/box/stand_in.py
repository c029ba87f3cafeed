"""What the notebook finds in place of the coursework package: the student's numbers, and nothing to mark with."""

from __future__ import annotations

import sys
import types
from pathlib import Path

HOME = Path(__file__).resolve().parents[2]  # the folder of linkkit


def furnish(own_code: bool) -> None:
    """Put stand-ins where the coursework package was, and in place of linkkit itself where own code is asked for.

    Only those modules of the real ones exist in the sandbox that read an answer: no question, no answer, no key.
    """
    if own_code:
        from linkkit.coursework.own_code import nothing

        sys.modules["linkkit"].__getattr__ = nothing
    else:
        import linkkit  # noqa: F401 (the real one, warm for every child)
    paper = types.ModuleType("linkkit.coursework")
    paper.__path__ = [str(HOME / "coursework")]
    sys.modules["linkkit.coursework"] = sys.modules["linkkit"].coursework = paper


def lay_out(numbers: dict) -> None:
    """Let `open_paper` give this student's numbers."""
    sys.modules["linkkit.coursework"].open_paper = lambda name, typed, namespace: Paper(numbers)


class Paper:
    """The paper as the student's cells see it: their numbers only."""

    def __init__(self, numbers: dict):
        import numpy as np

        from linkkit.coursework.givens import Given, Givens

        self._numbers = {
            setting: Givens(
                {name: np.asarray(value)[()] for name, value in given["values"].items()},
                tuple(Given(name, label, ()) for name, label in given["about"]),
            )
            for setting, given in numbers.items()
        }

    def __repr__(self) -> str:
        return "Your paper, while it is marked."

    def numbers(self, setting: str):
        """This student's numbers in a setting."""
        return self._numbers[setting]

    def look_over(self, question_id: str) -> None:
        """Nothing: the student has done that."""

    def mark(self, question_id: str) -> None:
        """Nothing: marking happens elsewhere."""
