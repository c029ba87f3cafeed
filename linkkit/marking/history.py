"""The history of marks: a table beside nbgrader's, to which rows are only ever added."""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass, field
from datetime import UTC, datetime

from sqlalchemy import DDL, Column, Float, Integer, MetaData, String, Table, Text, event, func, insert, select

from ..coursework.verdict import Verdict

SQLITE = (
    "CREATE TRIGGER IF NOT EXISTS linkkit_history_{what} BEFORE {what} ON linkkit_history "
    "BEGIN SELECT RAISE(ABORT, 'the history of marks is only added to'); END"
)
POSTGRES = (
    "CREATE OR REPLACE FUNCTION linkkit_keep() RETURNS trigger AS $$ BEGIN "
    "RAISE EXCEPTION 'the history of marks is only added to'; END $$ LANGUAGE plpgsql",
    "CREATE OR REPLACE TRIGGER linkkit_history_kept BEFORE UPDATE OR DELETE OR TRUNCATE ON linkkit_history "
    "FOR EACH STATEMENT EXECUTE FUNCTION linkkit_keep()",
)
TABLES = MetaData()
HISTORY = Table(
    "linkkit_history",
    TABLES,
    Column("number", Integer, primary_key=True, autoincrement=True),
    Column("at", String(32), nullable=False),
    Column("assignment", String(128), nullable=False, index=True),
    Column("student", String(128), nullable=False),
    Column("reason", Text, nullable=False),
    Column("script_hash", String(64), nullable=False),
    Column("fingerprint", String(64), nullable=False),
    Column("versions", Text, nullable=False),
    Column("seed", Integer, nullable=False),
    Column("stamp", String(64), nullable=False),
    Column("marks", Float),
    Column("late", Float, nullable=False),
    Column("record", Text, nullable=False),
)
for what in ("UPDATE", "DELETE"):
    event.listen(HISTORY, "after_create", DDL(SQLITE.format(what=what)).execute_if(dialect="sqlite"))
for statement in POSTGRES:
    event.listen(HISTORY, "after_create", DDL(statement).execute_if(dialect="postgresql"))


@dataclass(frozen=True)
class Entry:
    """One mark as it was given: of which script, by which versions, why, and every verdict."""

    student: str
    reason: str
    script_hash: str
    fingerprint: str
    versions: dict
    seed: int
    stamp: str
    marks: float | None
    late: float
    verdicts: dict[str, Verdict]
    said: tuple[str, ...] = field(default=())
    fault: str = ""
    stopped: dict[str, str] = field(default_factory=dict)
    at: str = ""


def add(connection, assignment: str, entry: Entry) -> None:
    """Add an entry, within the transaction of its marks."""
    record = {"verdicts": {c: asdict(v) for c, v in entry.verdicts.items()}, "said": entry.said, "fault": entry.fault,
              "stopped": entry.stopped}  # fmt: skip
    row = {name: getattr(entry, name) for name in
           ("student", "reason", "script_hash", "fingerprint", "seed", "stamp", "marks", "late")}  # fmt: skip
    at = datetime.now(UTC).isoformat(timespec="milliseconds")
    connection.execute(insert(HISTORY).values(
        **row, at=at, assignment=assignment, versions=json.dumps(entry.versions), record=json.dumps(record)))  # fmt: skip


def latest(connection, assignment: str) -> dict[str, Entry]:
    """The last entry of each student."""
    last = select(func.max(HISTORY.c.number)).where(HISTORY.c.assignment == assignment).group_by(HISTORY.c.student)
    return {entry.student: entry for entry in _entries(connection, HISTORY.c.number.in_(last))}


def of_student(connection, assignment: str, student: str) -> list[Entry]:
    """All entries of one student, the oldest first."""
    return list(_entries(connection, (HISTORY.c.assignment == assignment) & (HISTORY.c.student == student)))


def every(connection, assignment: str) -> list[Entry]:
    """All entries of an assignment, the oldest first."""
    return list(_entries(connection, HISTORY.c.assignment == assignment))


def _entries(connection, where):
    for row in connection.execute(select(HISTORY).where(where).order_by(HISTORY.c.number)).mappings():
        record = json.loads(row["record"])
        yield Entry(
            **{name: row[name] for name in
               ("at", "student", "reason", "script_hash", "fingerprint", "seed", "stamp", "marks", "late")},
            versions=json.loads(row["versions"]),
            verdicts={cell: Verdict(**verdict) for cell, verdict in record["verdicts"].items()},
            said=tuple(record["said"]),
            fault=record["fault"],
            stopped=record["stopped"],
        )  # fmt: skip
