"""Mark one script from end to end: rebuild it, run it in the sandbox, judge its answers, write its pages.

This is the function that runs in every lane, on this machine or on a cluster. It touches neither gradebook nor course.
"""

from __future__ import annotations

import hashlib
import time
from dataclasses import dataclass, field
from functools import cached_property

from ..coursework import find_assignment
from ..coursework.question import Assignment
from ..coursework.verdict import Verdict
from . import by_hand, feedback, numbers, saved
from .box.cage import Limits
from .execution import Executed, MarkerFailed, execute, steps_of
from .handed_in import HandedIn
from .judging import judged, secret_inputs
from .late import LateRules, penalty
from .rebuild import BrokenNotebook, Master, Rebuilt, rebuild
from .sandbox import Box, NoSandbox
from .showable import words

SANDBOX_FAILED, MARKER_FAILED = "The sandbox failed", "The marker failed"
FAILED = SANDBOX_FAILED, MARKER_FAILED  # how faults begin that are ours: such a script is marked again
MARKER = 3  # raised when the same script could get other marks from the same questions


@dataclass(frozen=True)
class Task:
    """What is the same for all scripts of a run."""

    assignment: str
    master: str = field(repr=False)
    key: str = field(repr=False)
    late: LateRules = field(default_factory=LateRules)
    limits: Limits = field(default_factory=Limits)
    credit: bool = True
    beside: bool = False  # may right pictures stand in the marked notebooks?

    @cached_property
    def fingerprint(self) -> str:
        """Changes with whatever could change a mark other than the script: questions, marker, master, key."""
        versions = {q.id: q.version for q in find_assignment(self.assignment).questions}
        said = f"{versions}|{MARKER}|{self.master}|{self.key}|{self.limits}"
        return hashlib.sha256(said.encode()).hexdigest()[:16]


@dataclass(frozen=True)
class Marked:
    """One script after marking; plain values only, so it can come from another machine."""

    student: str
    hash: str
    fingerprint: str
    stamp: str
    seed: int
    verdicts: dict[str, Verdict]
    said: tuple[str, ...]
    fault: str
    stopped: dict[str, str] = field(default_factory=dict)
    notebook: str = field(repr=False, default="")
    page: str = field(repr=False, default="")
    seconds: float = 0.0

    @property
    def marks(self) -> float | None:
        """The sum of the marks; None if nothing was marked."""
        given = [v.marks for v in self.verdicts.values() if v.marks is not None]
        return round(sum(given), 2) if given else None

    @property
    def unmarked(self) -> dict[str, str]:
        """The cells that were not marked, each with the reason."""
        return {cell: v.says for cell, v in self.verdicts.items() if v.marks is None}


class Marker:
    """Marks one script after the other, each in the same warm sandbox. A context manager."""

    def __init__(self, task: Task):
        self.task, self.master = task, Master.read(task.master)
        self.assignment: Assignment = find_assignment(task.assignment)
        self.graded = list(self.master.roles("graded").values())
        self.boxes = {own: Box(own_code=own, credit=task.credit) for own in (False, True)}

    def __enter__(self) -> Marker:
        return self

    def __exit__(self, *error) -> None:
        self.close()

    def close(self) -> None:
        """End the sandboxes."""
        for box in self.boxes.values():
            box.close()

    def mark(self, handed: HandedIn) -> Marked:
        """Mark one script. Whatever is wrong with the script, this returns; `NoSandbox` alone is raised."""
        begun = time.perf_counter()
        try:
            return self._mark(handed, begun)
        except NoSandbox:
            raise
        except Exception as error:  # ours, and it must not stop the class
            fault = f"{MARKER_FAILED} ({type(error).__name__}). This is no fault of yours; the lecturer sees it too."
            return self._marked(handed, Rebuilt({}), Executed(), fault, begun)

    def _mark(self, handed: HandedIn, begun: float) -> Marked:
        done, rebuilt, fault = Executed(), Rebuilt({}), handed.fault
        numbers.take_over(self.assignment, handed)
        try:
            if not fault:
                rebuilt = rebuild(self.master, handed.notebook)
                done = self._run(handed.student, rebuilt)
        except BrokenNotebook as error:
            fault = str(error)
        except MarkerFailed as error:
            fault = f"{SANDBOX_FAILED}: {error}. This is no fault of the script; mark it again."
        return self._marked(handed, rebuilt, done, fault, begun)

    def _run(self, student: str, rebuilt: Rebuilt) -> Executed:
        """Run the script; questions for code of one's own in a second sandbox, where linkkit is not."""
        inputs = secret_inputs(self.assignment, student, self.task.key)
        own = {q.id for q in self.assignment.questions if getattr(q, "own_code", False)}
        done = self._run_in(False, student, rebuilt, {q: x for q, x in inputs.items() if q not in own})
        if own:
            more = self._run_in(True, student, rebuilt, {q: x for q, x in inputs.items() if q in own})
            done.raws |= more.raws
            done.errors |= {cell.name: more.errors[cell.name] for cell in self.graded if cell.name in more.errors}
        return done

    def _run_in(self, own_code: bool, student: str, rebuilt: Rebuilt, inputs: dict) -> Executed:
        request = {
            "steps": steps_of(self.master, rebuilt, inputs),
            "numbers": numbers.plain(self.assignment, student),
            "seed": seed_of(self.task, student),
            "own_code": own_code,
        }
        return execute(self.boxes[own_code], request, self.task.limits)

    def _marked(self, handed: HandedIn, rebuilt: Rebuilt, done: Executed, fault: str, begun: float) -> Marked:
        student = handed.student
        if fault:
            verdicts = {c.name: Verdict.not_marked(c.points, fault) for c in self.graded}
        else:
            inputs = secret_inputs(self.assignment, student, self.task.key)
            verdicts = judged(self.assignment, student, self.graded, done, inputs)
        late = penalty(
            self.task.late, self.task.assignment, student, handed.stamp, sum(v.marks or 0 for v in verdicts.values())
        )
        answers = self.master.roles("answer")
        stopped = {name: words for name, words in done.errors.items() if words and name in answers}
        said = tuple(words(line, 500) for line in handed.said + rebuilt.said)
        notebook = saved.notebook(self.master, rebuilt, done, verdicts)
        return Marked(
            student=student,
            hash=handed.hash,
            fingerprint=self.task.fingerprint,
            stamp=handed.stamp,
            seed=seed_of(self.task, student),
            verdicts=verdicts,
            said=said,
            fault=fault,
            stopped=stopped,
            notebook=by_hand.with_pictures(notebook, self.assignment, student) if self.task.beside else notebook,
            page=feedback.page(
                self.assignment, self.graded, student, verdicts, said, fault, late, stopped, self.task.credit
            ),
            seconds=time.perf_counter() - begun,
        )


def seed_of(task: Task, student: str) -> int:
    """The seed of a script's own random numbers: the same in every run."""
    return int.from_bytes(hashlib.blake2b(f"{task.key}|{student}".encode(), digest_size=4).digest(), "big") >> 1
