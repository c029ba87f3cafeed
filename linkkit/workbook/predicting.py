"""Predict first, then see: an answer is stored before the motion is unlocked; and explain afterwards."""

from __future__ import annotations

import math
from contextlib import redirect_stdout
from html import escape
from io import StringIO

import ipywidgets as widgets

from .record import Record, split
from .safely import SENT_WHOLE, alert, note, shown_in, unrun

UNLOCKS = "Record your prediction; then the motion is unlocked."


class Prediction(widgets.VBox):
    """A question, a place for the answer, and what is shown once the answer is recorded.

    Attributes
    ----------
    answer : str or float or None
        What was recorded, also by an earlier run of the notebook.
    unlocked : bool
    """

    def __init__(self, question, choices, key, unit, then):
        notebook, self.name = split(key)
        self.question, self.unit, self.then, self.record = question, unit or "", then, Record(notebook)
        self.numeric = choices is None and unit is not None
        self.asks = "Write a number first" if self.numeric else "Choose or write an answer first"
        self.field = _field(choices, unit)
        self.button = widgets.Button(description="Record my prediction", layout={"width": "max-content"})
        self.message, self.shown = widgets.HTML(), widgets.Output()
        self.button.on_click(self._store)
        super().__init__(
            [widgets.HTML(f"<b>{escape(question)}</b>"), self.field, self.button, self.message, self.shown]
        )
        self._recall()

    def __repr__(self):
        return unrun("a question to predict", self.question)

    @property
    def answer(self):
        entry = self.record.get(self.name)
        return entry["answer"] if entry else None

    @property
    def unlocked(self):
        return self.answer is not None

    @shown_in(lambda self: self.message)
    def _recall(self):
        if self.unlocked:
            self._unlock()
        else:
            self.message.value = note(self.record.message or (UNLOCKS if self.then else ""))

    @shown_in(lambda self: self.message)
    def _store(self, _button=None):
        answer = self._read()
        if answer is None:
            self.message.value = alert(f"{self.asks}: a guess is fine, it is not marked.")
            return
        self.record.put(self.name, kind="prediction", question=self.question, answer=answer, unit=self.unit)
        self._unlock()

    def _read(self):
        """The answer as it stands in the field; None if there is none, or no number where one is asked for."""
        text = (self.field.value or "").strip()
        if not self.numeric:
            return text or None
        try:
            number = float(text.replace(",", ".").replace("−", "-"))
        except ValueError:
            return None
        return number if math.isfinite(number) else None

    def _unlock(self):
        answer = self.answer
        self.field.disabled = self.button.disabled = True
        self._fill(answer)
        said = f"{answer:g} {self.unit}".rstrip() if isinstance(answer, float) else answer
        self.message.value = note(f"You predicted: {said}" + (". Now look." if self.then else "."))
        if self.then is not None:
            with redirect_stdout(StringIO()) as printed:
                what = self.then()
            self._show(printed.getvalue(), what)

    def _fill(self, answer):
        """Show in the field what was recorded in an earlier session; a choice may have been reworded since."""
        text = f"{answer:g}" if isinstance(answer, float) else str(answer)
        if not self.field.value and text in getattr(self.field, "options", (text,)):
            self.field.value = text

    def _show(self, printed, what):
        self.shown.outputs = ()
        if printed:
            self.shown.append_stdout(printed)
        if what is not None:
            self.shown.append_display_data(what)


def predict(question, choices=None, *, key, unit=None, then=None) -> Prediction:
    """Ask for a prediction, store it, and only then show what `then` returns.

    Parameters
    ----------
    question : str
    choices : sequence of str, optional
        Answers to choose from. Without them a number is asked for if there is a `unit`, else some words.
    key : str
        Where it is recorded: the notebook and a name, as in "02/swing".
    unit : str, optional
        The unit of a number.
    then : function, optional
        Called without arguments once a prediction is recorded; returns what is to be shown (a panel, an
        animation).

    Examples
    --------
    >>> from linkkit.workbook import predict
    >>> panel = predict("Does the rocker go right round?", ["yes", "no"], key="02/rocker")
    """
    return Prediction(question, choices, key, unit, then)


def _field(choices, unit):
    if choices is not None:
        return widgets.RadioButtons(
            options=list(choices), value=None, description="I predict", layout={"width": "auto"}
        )
    if unit is not None:
        text = f"I predict, {unit}" if unit else "I predict"
        return widgets.Text(
            description=text, placeholder="a number", style={"description_width": "initial"}, **SENT_WHOLE
        )
    return widgets.Textarea(description="I predict", layout={"width": "36em"}, **SENT_WHOLE)


class Explanation(widgets.VBox):
    """A question to answer in one's own words after seeing; stored with the prediction."""

    def __init__(self, question, key):
        notebook, self.name = split(key)
        self.question, self.record = question, Record(notebook)
        entry = self.record.get(self.name)
        self.field = widgets.Textarea(
            value=entry["answer"] if entry else "",
            rows=4,
            layout={"width": "40em"},
            description="In my words",
            style={"description_width": "initial"},
            **SENT_WHOLE,
        )
        self.button = widgets.Button(description="Keep my words", layout={"width": "max-content"})
        self.message = widgets.HTML(note(self.record.message))
        self.button.on_click(self._store)
        super().__init__([widgets.HTML(f"<b>{escape(question)}</b>"), self.field, self.button, self.message])

    def __repr__(self):
        return unrun("a question to answer in your own words", self.question)

    @shown_in(lambda self: self.message)
    def _store(self, _button=None):
        if not self.field.value.strip():
            self.message.value = alert("There is nothing written yet.")
            return
        self.record.put(self.name, kind="explanation", question=self.question, answer=self.field.value.strip())
        self.message.value = note(f"Kept in {self.record.path.name}.")


def explain(question, *, key) -> Explanation:
    """Ask for an explanation in the student's own words, and keep it; it can be changed later, and every
    version stays.

    Examples
    --------
    >>> from linkkit.workbook import explain
    >>> panel = explain("Why does the rocker turn back?", key="02/why-back")
    """
    return Explanation(question, key)
