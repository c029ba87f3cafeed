"""Results as OneRoster 1.2 CSV: a zip file with a manifest, a category, a line item and a result for each student.

The columns and their order, the manifest's entries, the words for a score's status and the form of a sourcedId follow the
CSV binding 1.2.1 of August 2023 as public implementations of it give them; docs/marking.md says which parts were checked.
All is written as a delta, since a bulk file would delete whatever it does not name.
"""

from __future__ import annotations

import csv
import io
import os
import re
import zipfile
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from .marks import Line

SOURCED_ID = re.compile(r"[A-Za-z0-9_/.][A-Za-z0-9._\-/@]{0,255}")  # a first - or @ would be run by a spreadsheet
FILES = (
    "academicSessions", "categories", "classes", "classResources", "courses", "courseResources", "demographics",
    "enrollments", "lineItemLearningObjectiveIds", "lineItems", "lineItemScoreScales", "orgs", "resources",
    "resultLearningObjectiveIds", "results", "resultScoreScales", "roles", "scoreScales", "userProfiles",
    "userResources", "users",
)  # fmt: skip
CATEGORIES = ["sourcedId", "status", "dateLastModified", "title", "weight"]
LINE_ITEMS = [
    "sourcedId", "status", "dateLastModified", "title", "description", "assignDate", "dueDate", "classSourcedId",
    "categorySourcedId", "academicSessionSourcedId", "resultValueMin", "resultValueMax", "schoolSourcedId",
]  # fmt: skip
RESULTS = [
    "sourcedId", "status", "dateLastModified", "lineItemSourcedId", "studentSourcedId", "scoreStatus", "score", "scoreDate",
    "comment", "textScore", "classSourcedId", "inProgress", "incomplete", "late", "missing",
]  # fmt: skip


class NoSourcedId(ValueError):
    """A name that can't be a sourcedId."""


@dataclass(frozen=True)
class Where:
    """The sourcedIds of the class, the school and the academic session that the marks belong to.

    Raises
    ------
    NoSourcedId
        If one can't be a sourcedId.
    """

    class_id: str
    school_id: str
    session_id: str

    def __post_init__(self):
        for name in (self.class_id, self.school_id, self.session_id):
            if not SOURCED_ID.fullmatch(name):
                raise NoSourcedId(
                    f"{name!r} can't be a sourcedId: letters, figures and . _ - / @ only, not begun by - or @"
                )


def write(target: Path, assignment: str, found: list[Line], where: Where, at: datetime | None = None,
          due: datetime | None = None) -> list[str]:  # fmt: skip
    """Write the zip file; the ids that can't stand in it. Without a due time, today's date stands for it."""
    now = at or datetime.now(UTC)
    fit = [line for line in found if SOURCED_ID.fullmatch(line.student)]
    draft = target.with_name(f".{target.name}.part")
    target.parent.mkdir(parents=True, exist_ok=True)
    with zipfile.ZipFile(draft, "w", zipfile.ZIP_DEFLATED) as out:
        for name, rows in tables(assignment, fit, where, now, due).items():
            text = io.StringIO()
            csv.writer(text, lineterminator="\r\n").writerows(rows)
            out.writestr(f"{name}.csv", text.getvalue())
    os.replace(draft, target)
    return [line.student for line in found if line not in fit]


def tables(assignment: str, found: list[Line], where: Where, now: datetime,
           due: datetime | None = None) -> dict[str, list[list]]:  # fmt: skip
    """The rows of each file, the heading first."""
    at, day = now.strftime("%Y-%m-%dT%H:%M:%S.000Z"), now.strftime("%Y-%m-%d")
    until = due.strftime("%Y-%m-%d") if due else day
    given = {"categories", "lineItems", "results"}
    manifest = [["propertyName", "value"], ["manifest.version", "1.0"], ["oneroster.version", "1.2"]]
    manifest += [[f"file.{name}", "delta" if name in given else "absent"] for name in FILES]
    most = max((line.of for line in found), default=0.0)
    item = [assignment, "active", at, assignment, "", min(day, until), until, where.class_id, "coursework", where.session_id, "0",
            f"{most:g}", where.school_id]  # fmt: skip
    return {
        "manifest": manifest,
        "categories": [CATEGORIES, ["coursework", "active", at, "Coursework", ""]],
        "lineItems": [LINE_ITEMS, item],
        "results": [RESULTS, *(_result(assignment, line, where, at, day) for line in found)],
    }


def _result(assignment: str, line: Line, where: Where, at: str, day: str) -> list[str]:
    """A student's row; who handed nothing in has a status and no score."""
    status = ("partially graded" if line.still_open else "fully graded") if line.marks else "not submitted"
    flags = [line.still_open > 0, False, line.late > 0, not line.marks]
    score = f"{line.final:g}" if line.marks else ""
    return [f"{assignment}.{line.student}", "active", at, assignment, line.student, status, score, day, "", "",
            where.class_id, *(str(flag).lower() for flag in flags)]  # fmt: skip
