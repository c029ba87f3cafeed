"""Texts of students made fit to be stored and shown anywhere: on a page, in a table, on a lecturer's terminal."""

from __future__ import annotations

import re

# control signs but line ends, of which some steer a terminal; what turns the direction of writing; what is there unseen
STEERS = re.compile(
    "[\x00-\x08\x0b-\x1f\x7f-\x9f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069\ufff9-\ufffb\U000e0000-\U000e007f]"
)


def words(value, longest: int) -> str:
    """A text cut to size, without halves of characters and without signs that do something; nothing for what is no text.

    Examples
    --------
    >>> words("crank\\x1b[2J", 80)
    'crank�[2J'
    """
    if not isinstance(value, str):
        return ""
    return STEERS.sub("�", value[:longest].encode("utf-8", "replace").decode())


def line(value, longest: int) -> str:
    """The same without line ends: a name among others can't pass for a line of ours."""
    return words(value, longest).replace("\n", " ").replace("\t", " ")
