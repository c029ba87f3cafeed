"""Practise a question: fresh numbers, as many tries as wanted, and an answer that says what is wrong and what to do."""

from __future__ import annotations

from dataclasses import replace
from html import escape

import ipywidgets as widgets

from ..coursework.answers import Choice, Function, Table
from ..coursework.expression import Expression
from ..coursework.givens import Setting
from ..coursework.question import Assignment, Question
from ..coursework.shelf import SHELF, find, numbers
from ..coursework.verdict import judge
from .record import Record, split
from .safely import SENT_WHOLE, alert, note, shown_in, unrun

PICTURE_BOX = (480.0, 320.0)
MARGIN_PX = 30.0
WIDE = {"width": "max-content"}
AGAIN = "Try again with the same numbers, or see how it is done."


class Practice(widgets.VBox):
    """A question with numbers of its own, a place for the answer, and what is said of it.

    Attributes
    ----------
    question : Question
    set_number : int
        Which numbers are shown; the same set has the same numbers for everybody.
    givens : Givens
        The numbers.
    verdict : Verdict or None
        What was said of the last answer to these numbers.
    """

    def __init__(self, question, key, paper=SHELF):
        notebook, self.name = split(key)
        self.paper, self.question, self.record, self.verdict = paper, question, Record(notebook), None
        self.statement, self.answer = widgets.Output(), widgets.VBox()
        self.message, self.working = widgets.HTML(), widgets.HTML()
        self.check = _button("Check my answer", self._checked)
        self.another = _button("Another one", self._others)
        self.how = _button("Show how it is done", self._shown)
        row = widgets.HBox([self.check, self.another, self.how], layout={"flex_flow": "row wrap"})
        super().__init__([self.statement, self.answer, row, self.message, self.working])
        self.set_number = self._next()
        self._ask()

    def __repr__(self):
        return unrun("a question to practise", self.question.title)

    def _next(self):
        """The set to begin with: the one left unfinished, or the one after the last that was answered."""
        last = self.record.get(self.name)
        return 1 if not last else last["set"] + (last["code"] in ("right", "shown"))

    @shown_in(lambda self: self.message)
    def _ask(self):
        self.givens, self.verdict = numbers(self.question, self.set_number, self.paper), None
        self.form = form_for(self.question.kind)
        self.answer.children = (self.form,)
        self.working.value, self.how.disabled = "", True
        self.message.value = note(self.record.message)
        self.statement.outputs = ()
        for shown in statement(self.question, self.givens, self.set_number, self.paper):
            self.statement.append_display_data(shown)

    @shown_in(lambda self: self.message)
    def _checked(self, _button=None):
        self.verdict = judge(self.question, self.givens, self.form.raw())
        if self.verdict.code == "blank":
            self.message.value = alert("There is no answer here yet. Write one first: a wrong one costs nothing.")
            return
        self._keep(self.form.written(), self.verdict.code)
        self.message.value = reply(self.verdict)
        self.how.disabled = False

    @shown_in(lambda self: self.message)
    def _others(self, _button=None):
        self.set_number += 1
        self._ask()

    @shown_in(lambda self: self.message)
    def _shown(self, _button=None):
        if self.verdict.code != "right":
            self._keep(self.form.written(), "shown")
        self.working.value = working(self.question, self.givens)

    def _keep(self, answer, code):
        title = f"Practice: {self.question.title} (set {self.set_number})"
        self.record.put(self.name, kind="practice", question=title, answer=answer, set=self.set_number, code=code)


def practice(question, *, on: Setting | None = None, key=None) -> Practice:
    """A panel in which a question is practised, with other numbers as often as wanted; nothing is marked.

    Parameters
    ----------
    question : str or Question
        Its id, as in ``SHELF.by_id``, or a question of your own.
    on : Setting, optional
        What a question of your own is asked on, as from `linkkit.coursework.own.drawn`.
    key : str, optional
        Where the record is kept: the notebook and a name, as in "02/swing". "practice/" and the id if not given.

    Examples
    --------
    >>> from linkkit.workbook import practice
    >>> panel = practice("swing", key="02/practice-swing")
    >>> panel.form.field.value = "twenty"
    >>> panel.check.click()
    >>> "No number can be read" in panel.message.value
    True
    """
    asked = question if isinstance(question, Question) else find(question)
    if isinstance(asked.kind, Function):
        raise ValueError(f"{asked.id} asks for a function: it is practised in a cell, not in a panel")
    paper = SHELF if on is None else Assignment("practice", "", "", (on,), (asked,))
    return Practice(asked, key or f"practice/{asked.id}", paper)


def statement(question, givens, set_number, paper=SHELF):
    """What is shown above the answer: the story with its picture, the numbers, what is asked."""
    from IPython.display import Markdown

    setting = paper.setting(question.setting)
    yield Markdown(f"**{question.title}** (set {set_number})\n\n{setting.story}")
    if setting.machine is not None:
        yield _picture(setting.machine(givens))
    table = "\n".join(f"| {label} | **{value}** |" for label, value, _ in givens.rows())
    yield Markdown(f"| given | |\n|---|---|\n{table}\n\n**{question.ask}** {_how_near(question.kind)}")


def _how_near(kind):
    """What counts as right; where there is only a choice, the fields say it."""
    return "" if isinstance(kind, Choice | Table) else kind.sentence()


def _picture(linkage):
    """The machine as sketched, without the room that its motion would need."""
    from ..draw.diagram import line_diagram
    from ..draw.scene import bounds_of

    scene = line_diagram(linkage, scale_bar=False, arrows=False, box=PICTURE_BOX)
    return replace(scene, bounds=bounds_of(scene.shapes).grown(MARGIN_PX * scene.px))


def reply(verdict) -> str:
    """What is said of an answer, as HTML: how it was read, what is wrong, what to do next."""
    read = f"Read as {verdict.read}. " if verdict.read else ""
    if verdict.code == "right":
        return note(f"{read}{verdict.says} Take another one, or go on.")
    return alert(f"{read}Not yet. {verdict.says} {AGAIN}")


def working(question, givens) -> str:
    """The method by hand with these numbers, as HTML."""
    worked = question.by_hand(givens)
    steps = "".join(f"<li>{escape(step)}</li>" for step in worked.steps)
    return f"<ol>{steps}</ol><p>Answer: <b>{escape(question.kind.show(worked.value))}</b></p>"


class OneField(widgets.VBox):
    """A number or one of a few options."""

    def __init__(self, field):
        self.field = field
        super().__init__([field])

    def raw(self):
        """The answer as `judge` takes it."""
        return self.field.value

    def written(self):
        """The answer as the record keeps it."""
        return self.field.value or ""


class TableForm(widgets.VBox):
    """One choice for each row of a table."""

    def __init__(self, kind):
        self.fields = {row: _choice(kind.options, row) for row in kind.rows}
        super().__init__(list(self.fields.values()))

    def raw(self):
        """The table, "" where nothing was chosen."""
        return {row: field.value or "" for row, field in self.fields.items()}

    def written(self):
        """Row by row."""
        return "; ".join(f"{row}: {word or '?'}" for row, word in self.raw().items())


def form_for(kind):
    """The fields for a kind of answer."""
    if isinstance(kind, Table):
        return TableForm(kind)
    if isinstance(kind, Choice):
        return OneField(
            widgets.RadioButtons(options=list(kind.options), value=None, description="My answer", layout=WIDE)
        )
    return OneField(
        widgets.Text(description="My answer", placeholder=_form_of(kind), layout={"width": "26em"}, **SENT_WHOLE)
    )


def _form_of(kind):
    if isinstance(kind, Expression):
        return f"a formula in {', '.join(kind.names)}"
    return "a number and its unit" if kind.unit else "a number"


def _choice(options, label):
    return widgets.Dropdown(
        options=[("choose", ""), *((o, o) for o in options)], value="", description=label,
        style={"description_width": "7em"},
    )  # fmt: skip


def _button(text, action):
    made = widgets.Button(description=text, layout=WIDE)
    made.on_click(action)
    return made
