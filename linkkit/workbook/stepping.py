"""Step through a drawing one stage at a time."""

from __future__ import annotations

from html import escape

import ipywidgets as widgets

from .safely import shown_in, unrun


class Stepper(widgets.VBox):
    """The picture after each stage, its words, and buttons to go on and back.

    Attributes
    ----------
    stage : int
        The stage shown, from 1.
    """

    def __init__(self, drawing):
        self.drawing, self.stage = drawing, 1
        self.count = len(drawing.stages)
        self.back, self.on = (widgets.Button(description=text) for text in ("Stage before", "Next stage"))
        self.where, self.words = widgets.Label(), widgets.HTML()
        self.image, self.message = widgets.HTML(), widgets.HTML()
        self.back.on_click(lambda _: self.show(self.stage - 1))
        self.on.on_click(lambda _: self.show(self.stage + 1))
        super().__init__([widgets.HBox([self.back, self.on, self.where]), self.words, self.image, self.message])
        self.show(1)

    def __repr__(self):
        return unrun("a drawing", f"{self.count} stages")

    @shown_in(lambda self: self.message)
    def show(self, stage):
        """Show a stage."""
        self.image.value = self.drawing.picture(stage).svg()
        self.stage, self.message.value = stage, ""
        self.words.value = f'<p role="status">{escape(self.drawing.stages[stage - 1].words)}</p>'
        self.where.value = f"Stage {stage} of {self.count}"
        self.back.disabled, self.on.disabled = stage == 1, stage == self.count


def step(drawing) -> Stepper:
    """A panel that shows a drawing stage by stage.

    Parameters
    ----------
    drawing : Construction or another drawing with stages
        With `stages`, each having `words`, and `picture(n)`, the scene after n of them.

    Examples
    --------
    >>> import linkkit as lk
    >>> from linkkit.draw import construction
    >>> from linkkit.workbook import step
    >>> panel = step(construction(lk.machine("net-shaker"), 40))
    >>> panel.where.value
    'Stage 1 of 4'
    """
    return Stepper(drawing)
