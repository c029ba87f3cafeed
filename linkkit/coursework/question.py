"""A question is a function from a student's numbers to the answer; a misconception, to a wrong answer.

So nothing is typed in: the mark, the hint, the worked solution and the separation of right from wrong for ten
thousand ids all come from the same functions.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from functools import cached_property, wraps
from itertools import combinations

import numpy as np

from .answers import Choice, Function, Number, Table
from .designed import Designed
from .expression import Expression
from .givens import Givens, Setting, draw, stream, tidy_id
from .listed import ChainList, Positions
from .written import Written

Kind = Number | Choice | Table | Positions | Designed | ChainList | Expression | Function | Written


@dataclass(frozen=True)
class Misconception:
    """A known way to go wrong: the answer it leads to, what to say of it, the share of the marks it earns.

    `script` is how a student would write it, where the answer is a function.
    """

    code: str
    wrong: Callable
    says: str
    share: float = 0.0
    script: str = ""


@dataclass(frozen=True)
class Worked:
    """The method by hand with the numbers put in, and the value (SI) that it arrives at: a second route."""

    steps: tuple[str, ...]
    value: object


@dataclass(frozen=True)
class Question:
    """One question.

    Parameters
    ----------
    id : str
        Also the name of the student's variable or function.
    version : int
        Raised when the question is corrected; the numbers stay, they belong to the setting.
    setting : str
        Whose numbers it uses.
    answer : callable
        givens -> the answer (SI), broadcasting over givens of arrays. A question of `Function` kind takes
        the inputs too.
        Where `needs` names earlier questions, it also takes ``earlier``, a dict of the student's own
        answers to them.
    hint : str
        What to do next when the answer is wrong in no known way.
    by_hand : callable
        givens -> Worked.
    model : str
        The answer as code with the package's public names, by another way than `answer` where there is one.
        It stands in
        the source notebook and is cut out of what is released.
    claim : str
        What the marked cell claims; a part of its name.
    admits : callable
        (givens, earlier) -> whether the student's earlier answers are possible and leave something to be done here.
    own_code : bool
        Then linkkit cannot be imported when the question is marked, and the statement says so.
    concept : str
        What it is about, by the number of the lesson and a word.
    picture : callable
        givens -> the right picture for these numbers as SVG, for a tutor who marks by hand.
    puts : callable
        (answer, points of the machine where they are) -> where the answer puts one of them, to draw it in feedback.
    """

    id: str
    version: int
    setting: str
    title: str
    marks: float
    ask: str
    kind: Kind
    answer: Callable
    misconceptions: tuple[Misconception, ...]
    hint: str
    by_hand: Callable[[Givens], Worked]
    model: str
    claim: str = "right"
    needs: tuple[str, ...] = ()
    admits: Callable[[Givens, dict], bool] | None = None
    own_code: bool = False
    concept: str = ""
    picture: Callable[[Givens], str] | None = None
    puts: Callable[[float, dict], dict] | None = None

    @property
    def marked_by_hand(self) -> bool:
        """Does a tutor mark it?"""
        return isinstance(self.kind, Written)

    def inputs(self, words: str, key: str) -> np.ndarray:
        """The inputs at which a function is called, drawn from the course's key: nobody can look them up."""
        return self.kind.inputs(stream(f"{key}|{words}|{self.id}", 0, self.kind.many) / 2.0**64)

    def right(self, givens: Givens, inputs=None, earlier: dict | None = None):
        """The answer for these numbers; with `earlier`, what follows from the student's own answers."""
        extra = {"earlier": earlier} if earlier else {}
        return self.answer(givens, *_inputs(self, inputs), **extra)

    def wrong(self, misconception: Misconception, givens: Givens, inputs=None):
        """The answer that a misconception leads to with these numbers."""
        return misconception.wrong(givens, *_inputs(self, inputs))

    def apart(self, givens: Givens) -> np.ndarray:
        """For which of these givens are the answer and what each misconception leads to all apart?"""
        trial = np.linspace(0.02, 0.98, self.kind.many) if isinstance(self.kind, Function) else None
        inputs = None if trial is None else self.kind.inputs(trial)
        right = self.right(givens, inputs)
        answers = [right, *(self.wrong(known, givens, inputs) for known in self.misconceptions)]
        fair = _exists(self.kind, right)
        for one, other in combinations(answers, 2):
            fair = fair & self.kind.apart(one, other)
        return fair


def _inputs(question, inputs) -> tuple:
    return () if inputs is None else (inputs,)


def _exists(kind, right):
    """Is the answer there at all (the machine assembles, a choice can be made)?"""
    if isinstance(kind, Number):
        return np.isfinite(right)
    if isinstance(kind, Choice):
        return np.asarray(right) != ""
    return np.isfinite(right).all(axis=-1) if isinstance(kind, Function | Positions) else np.True_


@dataclass(frozen=True)
class Assignment:
    """Settings and the questions asked on them, in the order of the paper."""

    id: str
    title: str
    opening: str
    settings: tuple[Setting, ...]
    questions: tuple[Question, ...]
    seen: dict = field(default_factory=dict, repr=False, compare=False)

    @cached_property
    def by_id(self) -> dict[str, Question]:
        """The questions by their id."""
        return {question.id: question for question in self.questions}

    @property
    def marks(self) -> float:
        """The marks of the whole paper."""
        return sum(question.marks for question in self.questions)

    @property
    def marks_by_machine(self) -> float:
        """The marks that are given without a tutor."""
        return sum(question.marks for question in self.questions if not question.marked_by_hand)

    def setting(self, name: str) -> Setting:
        """A setting by its id."""
        found = next((s for s in self.settings if s.id == name), None)
        if found is None:
            raise KeyError(f"{self.id} has no setting {name!r}; it has {', '.join(s.id for s in self.settings)}")
        return found

    def asked_on(self, setting: str) -> tuple[Question, ...]:
        """The questions on one setting."""
        return tuple(question for question in self.questions if question.setting == setting)

    def givens(self, setting: str, students: str | Sequence[str]) -> Givens:
        """The numbers of one student, or of many as arrays."""
        where = self.setting(setting)
        if not isinstance(students, str):
            return draw(where, self.id, students, lambda g: self.sound(where, g))
        key = (setting, tidy_id(students))
        if key not in self.seen:
            self.seen[key] = draw(where, self.id, students, lambda g: self.sound(where, g))
        return self.seen[key]

    def sound(self, setting: Setting, givens: Givens) -> np.ndarray:
        """Which candidates make a sound machine with every answer apart from every known wrong one.

        The questions are only tried on machines that are sound, so they need not guard against the others.
        """
        fair = np.array(np.broadcast_to(setting.fits(givens), np.shape(next(iter(givens.values.values())))))
        left = givens.at(fair)
        for question in self.asked_on(setting.id):
            if fair.any():
                good = np.broadcast_to(question.apart(left), fair.sum())
                fair[fair] = good
                left = left if good.all() else left.at(good)
        return fair


def one_by_one(function: Callable) -> Callable:
    """Let a function of single numbers and words take givens of arrays: one call for each different case."""
    known: dict[tuple, object] = {}

    def one(givens):
        key = tuple(np.asarray(v).item() for v in givens.values.values())
        if key not in known:
            known[key] = function(givens)
        return known[key]

    @wraps(function)
    def each(givens):
        shape = np.shape(next(iter(givens.values.values())))
        if not shape:
            return one(givens)
        first, place = _different(givens)
        found = np.empty(len(first), dtype=object)
        for k, index in enumerate(first):
            found[k] = one(givens.at(index))
        return found[place].reshape(shape)

    return each


def _different(givens) -> tuple[np.ndarray, np.ndarray]:
    """The index of each different case among the givens, and for every one of them which of these it is."""
    columns = [np.unique(np.ravel(v), return_inverse=True)[1].ravel() for v in givens.values.values()]
    _, first, place = np.unique(np.stack(columns), axis=1, return_index=True, return_inverse=True)
    return first, place.ravel()
