"""The item report: tables and plots on one page, and the same figures as CSV."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import numpy as np

from ..coursework.question import Assignment, Question
from ..marking.course import write_whole
from ..marking.export import write_table
from ..solutions.page import template
from . import plots
from .attempts import Attempts, code_counts
from .statistics import (
    CORRELATION_FROM,
    FACILITY_FROM,
    Value,
    alpha,
    discrimination,
    error_of_measurement,
    facility,
    reading,
)

PLAIN = {  # verdicts that every question can have
    "right": "right",
    "wrong": "wrong in no known way",
    "blank": "left blank",
    "by-hand": "for a tutor",
    "not-marked": "not marked",
    "some-rows": "some rows right",
    "some-words": "some words right",
    "some-calls": "right in some calls",
    "carried": "follows from an earlier slip",
    "sign": "sign reversed",
    "factor": "a factor of ten, a hundred or a thousand off",
    "mixed-units": "figures of one unit, name of another",
    "rounded": "rounded too far",
    "no-unit": "unit missing",
    "other-id": "right for another id",
}


def figures(assignment: Assignment, attempts: Attempts) -> list[dict]:
    """What is known of each question."""
    counted, complete = np.flatnonzero(attempts.counted).tolist(), attempts.complete
    found = []
    for k, question in enumerate(assignment.questions):
        easy = facility(attempts.shares[:, k])
        apart = discrimination(complete, counted.index(k)) if k in counted and len(counted) > 1 else Value(None, 0)
        rest = np.delete(complete, counted.index(k), axis=1) if k in counted else complete
        found.append({
            "number": k + 1, "title": question.title, "id": question.id, "facility": easy, "discrimination": apart,
            "without": alpha(rest), "says": reading(easy, apart),
        })  # fmt: skip
    return found


def misconceptions(assignment: Assignment, attempts: Attempts) -> list[dict]:
    """How often each verdict was given for each question, the most frequent first."""
    rows = []
    for question, counts in zip(assignment.questions, code_counts(attempts), strict=True):
        answers = sum(counts.values())
        rows += [{"question": question.id, "number": assignment.questions.index(question) + 1, "code": code, "n": n,
                  "of": answers, "says": says(question, code)} for code, n in _ordered(counts)]  # fmt: skip
    return rows


def _ordered(counts: Counter) -> list[tuple[str, int]]:
    return sorted(counts.items(), key=lambda item: (-item[1], item[0]))


def says(question: Question, code: str) -> str:
    """A verdict in words: what is said of a misconception, or what every question can have."""
    known = {m.code: m.says for m in question.misconceptions}
    return known.get(code) or PLAIN.get(code, code.replace("-", " "))


def by_day(attempts: Attempts) -> list[dict]:
    """Scripts and their mean share of the marks for each day (UTC) of handing in."""
    share = np.nansum(np.where(attempts.counted, attempts.marks, 0.0), axis=1) / max(
        attempts.of[attempts.counted].sum(), 1e-9
    )
    days: dict[str, list[float]] = {}
    for time, value in zip(attempts.times, share, strict=True):
        days.setdefault(time.strftime("%Y-%m-%d") if time else "not known", []).append(float(value))
    return [{"day": day, "n": len(v), "mean": facility(v)} for day, v in sorted(days.items())]


def summary(attempts: Attempts) -> dict:
    """What holds for the whole paper."""
    complete = attempts.complete
    of = float(attempts.of[attempts.counted].sum())
    totals = complete.sum(axis=1) / of if of else np.zeros(0)
    enough = len(totals) >= FACILITY_FROM
    return {
        "scripts": len(attempts.students), "complete": len(complete), "of": of, "several": attempts.several,
        "left_out": attempts.left_out, "alpha": alpha(complete), "error": error_of_measurement(complete),
        "mean": float(totals.mean()) if enough else None, "spread": float(totals.std(ddof=1)) if enough else None,
        "totals": totals,
    }  # fmt: skip


def render(assignment: Assignment, attempts: Attempts) -> str:
    """The report as HTML that needs no other file."""
    rows, whole, days = figures(assignment, attempts), summary(attempts), by_day(attempts)
    return template("page.html", "linkkit.report").render(
        assignment=assignment, rows=rows, whole=whole, days=days, verdicts=misconceptions(assignment, attempts),
        pictures=_pictures(rows, whole, days), facility_from=FACILITY_FROM, correlation_from=CORRELATION_FROM,
        open=[q.id for q, c in zip(assignment.questions, attempts.counted, strict=True) if not c],
    )  # fmt: skip


def _pictures(rows: list[dict], whole: dict, days: list[dict]) -> dict[str, str]:
    names = [f"{row['number']}. {row['id']}" for row in rows]
    made = {}
    if any(r["facility"].value is not None for r in rows):
        made["facility"] = plots.items(names, [r["facility"] for r in rows], title="Facility: mean share of the marks",
                                       bounds=(0, 1))  # fmt: skip
    if any(r["discrimination"].value is not None for r in rows):  # a plot without a value says nothing
        made["discrimination"] = plots.items(names, [r["discrimination"] for r in rows], bounds=(-1, 1), marks=(0.0, 0.2, 0.4),
                                             title="Discrimination: correlation with the rest of the paper")  # fmt: skip
    if len(days) > 1:
        made["days"] = plots.by_day(
            [d["day"] for d in days], [d["n"] for d in days], title="Scripts by day of handing in"
        )
    if len(whole["totals"]) >= FACILITY_FROM:
        made["totals"] = plots.totals(whole["totals"], title="Share of all marks")
    return made


def write(assignment: Assignment, attempts: Attempts, folder: Path) -> Path:
    """Write the page and three tables; the path of the page."""
    place = folder / f"{assignment.id}-report.html"
    write_whole(place, render(assignment, attempts))
    write_table(folder / f"{assignment.id}-items.csv", ITEMS, [_item(row) for row in figures(assignment, attempts)])
    verdicts = [
        [v["number"], v["question"], v["code"], v["n"], v["of"], v["says"]]
        for v in misconceptions(assignment, attempts)
    ]
    write_table(folder / f"{assignment.id}-verdicts.csv", ["number", "question", "code", "n", "of", "says"], verdicts)
    days = [[d["day"], d["n"], d["mean"].value] for d in by_day(attempts)]
    write_table(folder / f"{assignment.id}-days.csv", ["day", "scripts", "mean share"], days)
    return place


ITEMS = ["number", "question", "facility", "facility low", "facility high", "facility n", "discrimination",
         "discrimination low", "discrimination high", "discrimination n", "alpha without it", "reading"]  # fmt: skip


def _item(row: dict) -> list:
    easy, apart = row["facility"], row["discrimination"]
    return [row["number"], row["id"], easy.value, easy.low, easy.high, easy.n, apart.value, apart.low, apart.high, apart.n,
            row["without"].value, row["says"]]  # fmt: skip
