"""What keeps a panel honest: errors of a callback are shown (a widget would only log them), answers arrive whole."""

from __future__ import annotations

import traceback
from functools import wraps
from html import escape

from ..errors import LinkageError

# For a field of text beside a button: sent once, when it is left. Sent letter by letter, a quick press of the button
# overtakes the last letters while the kernel is busy, and half an answer is judged.
SENT_WHOLE = {"continuous_update": False}

LOOK = "padding:4px 10px;border-left:4px solid"
ALERT = f'<div role="alert" style="{LOOK} #a64b0c;color:#7d2110;background:#fdf0ec">{{}}</div>'
NOTE = f'<div role="status" style="{LOOK} #1468c3;color:#16212a;background:#eef3f8">{{}}</div>'


def shown_in(message):
    """Make a callback that writes what goes wrong into an HTML widget, `message(self)`, and empties it
    otherwise.

    A LinkageError is a sentence for the student; anything else is a fault of the panel and is shown with its
    trace.
    """

    def around(method):
        @wraps(method)
        def safe(self, *args, **kwargs):
            place = message(self)
            try:
                result = method(self, *args, **kwargs)
            except LinkageError as fault:
                place.value = alert(str(fault))
            except Exception as fault:
                place.value = alert(f"This panel met an error: {type(fault).__name__}: {fault}", traceback.format_exc())
            else:
                return result

        return safe

    return around


def alert(sentence, detail="") -> str:
    """An error as HTML that a screen reader speaks."""
    more = f"<details><summary>Details for your tutor</summary><pre>{escape(detail)}</pre></details>" if detail else ""
    return ALERT.format(escape(sentence[:1].upper() + sentence[1:]) + more)


def unrun(what, about) -> str:
    """What stands in the place of a panel in a notebook that was saved and is not trusted or not run."""
    return f"[{what}; run the notebook to use it] {about}"


def note(sentence) -> str:
    """A remark as HTML; an empty sentence is nothing."""
    return NOTE.format(escape(sentence)) if sentence else ""
