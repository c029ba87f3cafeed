"""Worked solutions read back from their HTML, as a student would copy the answers off the page."""

from html.parser import HTMLParser

from linkkit.coursework.answers import Function, Table
from linkkit.coursework.listed import ChainList, Positions
from linkkit.solutions.worked import SAMPLE

VOID = {"meta", "link", "br", "img", "hr", "input"}


class Reader(HTMLParser):
    """The rows of the answer box below each question's heading, and the text of everything else worth a look."""

    def __init__(self):
        super().__init__()
        self.stack, self.question, self.answers, self.cell = [], None, {}, None

    def handle_starttag(self, tag, attrs):
        about = dict(attrs)
        if tag == "h3":
            self.question = about.get("id")
        if tag not in VOID:
            self.stack.append(about.get("class", ""))
        if (
            "answer" in self.stack
            and tag in ("tr", "strong")
            and not (tag == "strong" and self.answers.get(self.question))
        ):
            self.answers.setdefault(self.question, []).append([])
        if "answer" in self.stack and tag in ("th", "td", "strong"):
            self.cell = self.answers[self.question][-1]
            self.cell.append("")

    def handle_endtag(self, tag):
        if self.stack:
            self.stack.pop()
        if tag in ("th", "td", "strong", "caption"):
            self.cell = None

    def handle_data(self, data):
        if self.cell is not None:
            self.cell[-1] += data


def answers_on(page):
    """The answer of each question as rows of words."""
    reader = Reader()
    reader.feed(page)
    return {name: [[w.strip() for w in row if w.strip()] for row in rows] for name, rows in reader.answers.items()}


def raw_of(question, rows):
    """The rows as a student would hand them in; of a function, its values at the sample."""
    kind = question.kind
    if isinstance(kind, Function):
        return [float(row[-1].split()[0]) for row in rows[1:]]
    if isinstance(kind, Positions | Table):
        return {row[0]: row[-1] for row in rows[1:]}
    if isinstance(kind, ChainList):
        chains = [f"kind {row[-1].replace(': ', ', ', 1)}" for row in rows[1:]]
        return [dict(part.split(" ", 1) for part in chain.split(", ")) for chain in chains]
    return rows[0][0].removeprefix("Answer: ")


__all__ = ["SAMPLE", "answers_on", "raw_of"]
