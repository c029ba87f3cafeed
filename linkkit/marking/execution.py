"""Run a rebuilt script in the sandbox, again without the cell that ended it if one did, and collect plain answers."""

from __future__ import annotations

from dataclasses import dataclass, field

from .box.cage import Limits
from .box.frames import LEFT_A_THREAD
from .rebuild import LOOK, Master, Rebuilt
from .sandbox import Box, Ran
from .showable import words

# runs of one script at most, each without the cell that ended the one before; as many a very long one counts
RUNS, LONG = 6, 3
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
    runs = RUNS
    while runs > 0:
        ran = box.run({**request, "steps": steps}, limits)
        at = _take(ran, done, steps)
        if at is None:
            return done
        done.errors[at] = _fault(ran)
        steps = [step for step in steps if step["id"] != at]
        runs -= LONG if ran.why == "total time" else 1
    return done


def _take(ran: Ran, done: Executed, steps: list[dict]) -> str | None:
    """Take over what a run said; the step that ended it, or None if it came to its end.

    The first message is of the time before any of the student's code; the others may be forged by it. All that they can do is
    to give answers to what was asked here, and to lose some.
    """
    first = ran.sent[0] if ran.sent else {"no cage": ran.why or "nothing came out of the sandbox"}
    if "no cage" in first or "no cage" in ran.why or ran.ended is None:
        raise MarkerFailed(words(str(first.get("no cage") or ran.why), 200))
    asked = {step["id"]: "inputs" in step for step in steps}
    left, at, finished = dict(asked), steps[0]["id"], False
    for message in ran.sent:
        at = message["at"] if _names(message, "at", asked) else at
        finished = finished or message.get("done") is True
        _take_one(message, done, left)
    return None if finished and not left else at


def _names(message: dict, what: str, left: dict) -> bool:
    return isinstance(message.get(what), str) and message[what] in left


def _take_one(message: dict, done: Executed, left: dict[str, bool]) -> None:
    """Take over one message about a step that is `left`, which says of each whether an answer is asked for there."""
    if _names(message, "ran", left):
        done.printed[message["ran"]] = words(message.get("printed"), 10_000)
        done.errors[message["ran"]] = words(message.get("error"), 400)
        del left[message["ran"]]
    elif _names(message, "answer", left) and left.pop(message["answer"]):
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


def received(value, depth: int = 0):
    """A value that came out of the sandbox: numbers, words, lists and tables of them, cut to size; else None."""
    if isinstance(value, bool) or value is None:
        return value
    if isinstance(value, int | float):
        return float(value) if abs(value) < 1e300 else float("inf")
    if isinstance(value, str):
        return words(value, WORDS)
    if isinstance(value, dict) and set(value) == {"not finite"}:
        return {"nan": float("nan"), "-inf": float("-inf")}.get(str(value["not finite"]), float("inf"))
    if depth >= DEEPEST:
        return None
    if isinstance(value, dict):
        return {words(k, 80): received(v, depth + 1) for k, v in list(value.items())[:MOST]}
    return [received(v, depth + 1) for v in value[:MOST]] if isinstance(value, list) else None
