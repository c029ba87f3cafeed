"""What a tutor is shown of an answer that a person marks: its text made harmless, and the pictures attached to it.

The pages that show it are read by somebody who is logged in where marks are given, so no markup of the student's gets there.
"""

from __future__ import annotations

import binascii
import re
from collections.abc import Mapping
from html import escape

from .picture_size import READ, size_of
from .showable import line, words

MOST, LARGEST = 8, 6_000_000  # pictures of one cell; characters of each in base64
MOST_PIXELS = 100_000_000  # a few kilobytes can claim more, and take all memory of the browser that shows them
LONGEST = 100_000  # characters that are shown
PICTURE = re.compile(r"!\[([^\[\]<>\n]{0,200})\]\(attachment:([^()<>\s]{1,200})\)")
TAG = re.compile(r"<(?=[A-Za-z/!?])")
LINK = re.compile(r"\](?=[(:\[])")
ADDRESS = re.compile(r"(https?:)(?=//)", re.IGNORECASE)
RUNS = re.compile(  # in a formula: what links, loads, dresses, makes commands of other names, or paints over the rest of the page
    r"\\(?=(href|require|class|style|cssId|data|mmlToken|unicode|bbox|csname|(e|g|x)?def|let|(re)?new(command|environment)|"
    r"Declare\w*|begingroup|rule|Rule|Space|m?kern|m?skip|hskip|hspace|raise|lower|move(left|right)|[lr]lap|smash)(?![A-Za-z]))"
)


def pictures(name: str, claiming: list[dict], said: list[str]) -> dict[str, dict[str, str]]:
    """The pictures attached to the cell of that name, by the name of the file; what is no picture is left out and said."""
    cell = next((c for c in claiming if c.get("id") == name), claiming[0] if claiming else {})
    there = cell.get("attachments")
    found = {}
    for file, bundle in list(there.items())[:MOST] if isinstance(there, dict) else ():
        kind, data = _picture(bundle)
        if kind:
            found[line(str(file), 200)] = {kind: data}
        else:
            said.append(f"What is attached to the cell “{name}” as “{line(str(file), 60)}” is no picture that can be shown, "
                        "or too large: PNG, JPEG, GIF and WebP up to 4 MB and 100 megapixels are.")  # fmt: skip
    return found


def _picture(bundle) -> tuple[str, str]:
    """Kind and base64 text of a picture; empty if it is none."""
    for kind, data in bundle.items() if isinstance(bundle, dict) else ():
        data = "".join(data) if isinstance(data, list) and all(isinstance(d, str) for d in data) else data
        if kind in READ and isinstance(data, str) and len(data) <= LARGEST and _can_be_shown(kind, data):
            return kind, "".join(data.split())
    return "", ""  # SVG is none: it can hold a script


def _can_be_shown(kind: str, data: str) -> bool:
    try:
        size = size_of(kind, binascii.a2b_base64("".join(data.split()), strict_mode=True))
    except (binascii.Error, ValueError):
        return False
    return size is not None and size[0] * size[1] <= MOST_PIXELS


def harmless(text: str, attached: Mapping) -> str:
    """Markdown without raw HTML and without links, but with the pictures that are attached to the cell.

    A link may run a script whatever its look, since addresses can be spelt in many ways; a picture from elsewhere tells who
    reads the answer when; and a picture that is missing stops nbgrader's pages.

    Examples
    --------
    >>> harmless("$x<y$ ![d](attachment:d.png) ![me](http://x/y.png)", {"d.png": {}})
    '$x< y$ ![d](attachment:d.png) ![me] (http: //x/y.png)'
    """
    kept, at = [], 0
    for found in PICTURE.finditer(text):
        if found[2] in attached:
            kept += [_plain(text[at : found.start()]), found[0]]
            at = found.end()
    return "".join([*kept, _plain(text[at:])])


def _plain(text: str) -> str:
    """Markup without effect, and as near as can be to what was typed."""
    return RUNS.sub(r"\\ ", TAG.sub("< ", LINK.sub("] ", ADDRESS.sub(r"\1 ", words(text, LONGEST)))))


def shown(text: str, attached: dict[str, dict[str, str]]) -> str:
    """An answer as HTML for a page of ours: the text as it was typed, the pictures below it."""
    images = [f'<figure><img src="data:{kind};base64,{data}" alt="{escape(file)}"></figure>'
              for file, bundle in attached.items() for kind, data in bundle.items()]  # fmt: skip
    return escape(words(text, LONGEST)) + "".join(images)
