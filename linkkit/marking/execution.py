"""Run a rebuilt script in the sandbox, again without the cell that ended it if one did, and collect plain answers."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from .box.cage import Limits
from .box.frames import LEFT_A_THREAD
from .rebuild import LOOK, Master, Rebuilt
from .sandbox import Box, Ran

RUNS = 6  # of one script at most: each one leaves out a cell that ended the one before
DEEPEST, MOST, WORDS = 4, 2000, 2000  # of an answer: levels, entries, characters
ENDED = {
    "cell time": "It ran for too long, could not be interrupted, and was ended.",
    "total time": "The time for the whole script was used up here.",
    "too much output": "It gave more output than is read.",
}


class MarkerFailed(RuntimeError):
    """The sandbox failed, not the script."""


@dataclass
class Executed:
    """What a script gave: plain answers by graded cell, what each cell printed and stopped with, the id typed in."""

    raws: dict[str, object] = field(default_factory=dict)
    printed: dict[str, str] = field(default_factory=dict)
    errors: dict[str, str] = field(default_factory=dict)
    typed: str = ""


def steps_of(master: Master, rebuilt: Rebuilt, inputs: dict[str, list | None]) -> list[dict]:
    """The cells to run and the answers to take, in order; `inputs` are by question, and only these are taken."""
    steps = [_own(name, text, n) for name, texts in rebuilt.own.items() if not name for n, text in enumerate(texts)]
    for cell in master.cells:
        if cell.role == "graded" and cell.question in inputs:
            steps.append({"id": cell.name, "name": cell.question, "inputs": inputs[cell.question]})
        elif cell.role in ("answer", "by-hand") and cell.code:
            steps.append({"id": cell.name, "own": True, "source": rebuilt.answers[cell.name]})
        elif cell.role == "locked" and not LOOK.fullmatch(cell.source):
            steps.append({"id": cell.name, "own": False, "source": cell.source})
        steps += [_own(cell.name, text, n) for n, text in enumerate(rebuilt.own.get(cell.name, ()))]
    return [step for step in steps if step.get("source", " ")]


def _own(behind: str, text: str, number: int) -> dict:
    return {"id": own_step(behind, number), "own": True, "source": text}


def own_step(behind: str, number: int) -> str:
    """The name of the step for a cell that the student added."""
    return f"{behind} +{number + 1}"


def execute(box: Box, request: dict, limits: Limits) -> Executed:
    """Run a script until it comes to its end.

    Parameters
    ----------
    request : dict
        ``steps``, ``numbers``, ``seed``, ``own_code``.

    Raises
    ------
    MarkerFailed
        If the sandbox did not work; what the script does is never an error.
    """
    done = Executed()
    steps = list(request["steps"])
    for _ in range(RUNS):
        ran = box.run({**request, "steps": steps}, limits)
        at = _take(ran, done)
        if at is None:
            return done
        done.errors[at] = _fault(ran)
        steps = [step for step in steps if step["id"] != at]
    return done


def _take(ran: Ran, done: Executed) -> str | None:
    """Take over what a run said; the step that ended it, or None if it came to its end."""
    wall = next((m["no cage"] for m in ran.sent if "no cage" in m), None)
    if wall or "no cage" in ran.why or ran.ended is None or not ran.sent:
        raise MarkerFailed(str(wall or ran.why or "nothing came out of the sandbox")[:200])
    at, finished = "", False
    for message in ran.sent:
        at = str(message.get("at", at))
        _take_one(message, done)
        finished = finished or message.get("done") is True
    return None if finished else at


def _take_one(message: dict, done: Executed) -> None:
    if isinstance(message.get("ran"), str):
        done.printed[message["ran"]] = words(message.get("printed"), 10_000)
        done.errors[message["ran"]] = words(message.get("error"), 400)
    elif isinstance(message.get("answer"), str):
        done.raws[message["answer"]] = received(message.get("raw"))
    elif message.get("done") is True:
        done.typed = words(message.get("typed"), 200)


def _fault(ran: Ran) -> str:
    """Why a run ended early, in words."""
    if ran.why in ENDED:
        return ENDED[ran.why]
    if ran.why:
        return "What it sent could not be read."
    if ran.ended == LEFT_A_THREAD:
        return "It left a thread running, so it was left out."
    return "It ended the Python process." if (ran.ended or 0) >= 0 else "It crashed the Python process."


def words(value, longest: int) -> str:
    """A text that can be stored and shown anywhere: no halves of characters, no control signs but line ends."""
    if not isinstance(value, str):
        return ""
    whole = value[:longest].encode("utf-8", "replace").decode()
    return re.sub(r"[\x00-\x08\x0b-\x1f\x7f]", "�", whole)


def received(value, depth: int = 0):
    """A value that came out of the sandbox: numbers, words, lists and tables of them, cut to size; else None."""
    if isinstance(value, bool) or value is None:
        return value
    if isinstance(value, int | float):
        return float(value) if abs(value) < 1e300 else float("inf")
    if isinstance(value, str):
        return words(value, WORDS)
    if isinstance(value, dict) and set(value) == {"not finite"}:
        return {"nan": float("nan"), "-inf": float("-inf")}.get(value["not finite"], float("inf"))
    if depth >= DEEPEST:
        return None
    if isinstance(value, dict):
        return {words(k, 80): received(v, depth + 1) for k, v in list(value.items())[:MOST]}
    return [received(v, depth + 1) for v in value[:MOST]] if isinstance(value, list) else None
